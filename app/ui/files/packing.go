package files

import (
	"context"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/ui/ask"
	"legwright/app/ui/jobs"
	"legwright/app/ui/widgets"
	"legwright/mapio/atomicfile"
	"legwright/mapio/legpack"
	"legwright/mapio/openfile"
	"legwright/mapio/planfile"
)

// Packing packs the open plan, and unpacks packed plans into folders beside them.
type Packing struct {
	Needs
	saver              *Saver
	writing, unpacking *jobs.Slot
	path               string // of the pack that is being unpacked
}

func newPacking(n Needs, saver *Saver) *Packing {
	k := &Packing{Needs: n, saver: saver, writing: jobs.NewSlot(n.Later), unpacking: jobs.NewSlot(n.Later)}
	n.showJob(k.writing, func(jobs.Job) string { return "Writing the pack…" }, func() {
		if k.writing.Cancel() {
			k.Foot.Say("Cancelled: nothing was packed.")
		}
	})
	n.showJob(k.unpacking, func(jobs.Job) string { return "Unpacking…" }, func() {
		if k.unpacking.Cancel() {
			k.cancelled("Cancelled: " + filepath.Base(k.path) + " was not unpacked.")
		}
	})
	return k
}

// isPack reports by its name that a file is a packed plan.
func isPack(path string) bool { return strings.EqualFold(filepath.Ext(path), legpack.Ext) }

// Pack asks where the packed plan goes.
func (k *Packing) Pack() {
	if !k.Host.TakeTyping() {
		return
	}
	text := fmt.Sprintf("Of a terrain file over %d MB, only the part within %d km of the plan is packed; a file with no part that near is left out. The packed plan's number then differs from the plan number on your papers.", legpack.KeepWhole>>20, legpack.AroundM/1000)
	if len(k.Session.Plan().Escapes) > 0 {
		text += " The escapes keep their ticks, but if a file is left out, they are DRAFT until you tick them again."
	}
	words := widgets.NewWrapped(text)
	words.Hidden = !slices.ContainsFunc(k.Session.Plan().Terrain, func(t plan.Terrain) bool { return !t.Embedded() })
	k.Dialogs.SavePath(ask.Path{
		Title: "Pack the plan with its pictures and terrain", Verb: "Pack", Start: k.saver.suggest(legpack.Ext), Endings: []string{legpack.Ext}, Extra: words,
		Done: func(path string) { k.write(path, false) },
	})
}

// write packs beside the window.
func (k *Packing) write(path string, over bool) {
	const refused = "The plan was not packed"
	if _, busy := k.writing.Now(); busy {
		k.Foot.Say("A plan is still being packed. Try again in a moment.")
		return
	}
	k.Session.Settle()
	p := k.Session.Plan()
	if err := k.withheld(p); err != nil {
		k.Dialogs.Refuse(refused, err)
		return
	}
	var packed legpack.Packed
	k.writing.Start("Packing "+filepath.Base(path), func(ctx context.Context, _ func(jobs.Progress)) error {
		r, err := leg.NewReader(p)
		if err != nil {
			return err
		}
		return atomicfile.Write(path, atomicfile.Options{ReadOnly: over}, func(w io.Writer) (err error) {
			packed, err = legpack.Pack(ctx, w, r, func(name string) (fs.File, error) { return openfile.Open(name) })
			return err
		})
	}, func(err error) {
		if err != nil {
			k.askReadOnly(refused, err, func() { k.write(path, true) })
			return
		}
		k.Foot.Say(fmt.Sprintf("Packed %s: %s.", filepath.Base(path), packed))
	})
}

// withheld refuses a plan that names files outside its folder to which nobody agreed.
func (k *Packing) withheld(p *plan.Plan) error {
	for _, s := range p.Sheets {
		if k.Desk.Withheld(s.Picture) {
			return fmt.Errorf("%s is outside the plan's folder and was not opened: first show the sheet with this picture and agree to open it", filepath.Base(s.Picture))
		}
	}
	for _, t := range p.Terrain {
		if k.Desk.Withheld(t.Path) {
			return fmt.Errorf("%s is outside the plan's folder and was not opened: first open it with File → Open terrain…", filepath.Base(t.Path))
		}
	}
	return nil
}

// open unpacks a packed plan into the folder of its name beside it, and hands its plan to then.
// It asks first if the folder is there already; nothing is overwritten.
func (k *Packing) open(pack string, then func(name string)) {
	folder := strings.TrimSuffix(pack, filepath.Ext(pack))
	if _, err := os.Lstat(folder); err != nil {
		k.unpack(pack, folder, then)
		return
	}
	other := freeFolder(folder)
	answers := []ask.Answer{{Text: "Cancel", Default: true, Do: func() { k.cancelled("Cancelled: " + filepath.Base(pack) + " was not unpacked.") }}}
	if inside := filepath.Join(folder, filepath.Base(folder)+planfile.Ext); isFile(inside) {
		answers = append(answers, ask.Answer{Text: "Open the plan there", Do: func() { then(inside) }})
	}
	answers = append(answers, ask.Answer{Text: "Unpack next to it", Do: func() { k.unpack(pack, other, then) }})
	k.Dialogs.Question("The folder already exists",
		"There is already a folder "+filepath.Base(folder)+". If you unpack next to it, the new folder is called "+filepath.Base(other)+". Nothing is overwritten.", answers[0].Do, answers...)
}

// freeFolder is the name of a folder that is not there yet.
func freeFolder(folder string) string {
	for n := 2; ; n++ {
		if other := fmt.Sprintf("%s %d", folder, n); !isThere(other) {
			return other
		}
	}
}

func isThere(path string) bool { _, err := os.Lstat(path); return err == nil }

func isFile(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Mode().IsRegular()
}

func (k *Packing) unpack(pack, folder string, then func(name string)) {
	k.path = pack
	name := ""
	k.unpacking.Start("Unpacking "+filepath.Base(pack), func(ctx context.Context, _ func(jobs.Progress)) error {
		f, err := openfile.Open(pack)
		if err != nil {
			return err
		}
		defer f.Close()
		info, err := f.Stat()
		if err == nil {
			name, err = legpack.Unpack(ctx, f, info.Size(), folder)
		}
		return err
	}, func(err error) {
		if err != nil {
			k.refuse("This packed plan cannot be opened", pack, err)
			return
		}
		then(name)
	})
}

// Busy reports whether a plan is being packed or unpacked.
func (k *Packing) Busy() bool {
	_, writing := k.writing.Now()
	_, unpacking := k.unpacking.Now()
	return writing || unpacking
}
