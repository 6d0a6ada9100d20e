package ask

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"legwright/app/ui/widgets"
)

// network knows which shares of servers answer. A server that is switched off can keep whoever
// looks for a file on it waiting for half a minute, so each share is touched beside the window
// before the window touches a path on it.
type network struct {
	*widgets.Quiet // the line that says what is waited for
	d              *Dialogs
	shares         map[string]*answer
	came           func() // an answer has come
}

// answer is what came from a share; nil err until something came.
type answer struct {
	reached bool
	err     error
}

// touch looks for a path.
func touch(path string) error {
	_, err := os.Stat(path)
	return err
}

// reached reports whether a path lies on this machine or on a share that has answered. It
// begins to ask a share that has not been asked.
func (n *network) reached(path string) bool {
	share := n.d.share(path)
	if share == "" {
		return true
	}
	if a := n.shares[share]; a != nil {
		return a.reached
	}
	a, touch, later := new(answer), n.d.touch, n.d.later
	n.shares[share] = a
	go func() {
		err := touch(share + string(filepath.Separator))
		later(func() {
			a.reached, a.err = err == nil || errors.Is(err, fs.ErrPermission), err
			n.came()
		})
	}()
	return false
}

// near is reached for a path that was typed, and says what the path lacks or waits for.
func (n *network) near(path string) bool {
	switch {
	case lacksShare(path):
		n.SetText(`Type the server, share and file, such as \\server\share\map.png`)
	case !n.reached(path):
		n.SetText(n.waits(path))
	default:
		return true
	}
	return false
}

// waits says why a path is not reached. A share that could not be reached is asked again with
// the next letter.
func (n *network) waits(path string) string {
	share := n.d.share(path)
	if a := n.shares[share]; a != nil && a.err != nil {
		delete(n.shares, share)
		return share + " cannot be reached. Check the name and the network, or type another path."
	}
	return "Waiting for " + share + " to answer. You can type another path meanwhile."
}
