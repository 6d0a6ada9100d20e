package headless

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"runtime"
	"sync"
	"sync/atomic"

	"legwright/app/caution"
)

const (
	blockBytes = 256 << 10 // about 8,000 rows
	lineBytes  = 64 << 10  // the longest row that is read
)

// errLongRow is the error of a row longer than lineBytes.
var errLongRow = fmt.Errorf("the row is longer than %d bytes", lineBytes)

// rowFunc appends the answer to one row, without the line's end, to dst. On an
// error what it appended is removed and the error written instead.
type rowFunc func(dst, line []byte) ([]byte, error)

// answers are the lines that answer a block of rows.
type answers struct {
	text   []byte
	failed bool // a row could not be answered
}

// runBatch answers every line of the input with one line, in order. newRow
// makes the rowFunc of one worker, which keeps its own scratch; the workers share
// the processor's cores. It returns errQuiet if rows failed. Rows that arrive
// slowly, as from a terminal, are answered at once.
func runBatch(s streams, newRow func() rowFunc) error {
	workers := max(1, runtime.GOMAXPROCS(0))
	idle := make(chan rowFunc, workers)
	for range workers {
		idle <- newRow()
	}
	order := make(chan chan answers, 2*workers)
	var failed, stop atomic.Bool // stop: the answers cannot be written any more
	written := make(chan error, 1)
	go func() {
		var failure error
		for next := range order {
			a := <-next
			failed.Store(failed.Load() || a.failed)
			if failure == nil {
				_, failure = s.out.Write(a.text)
				stop.Store(failure != nil)
			}
		}
		written <- failure
	}()
	readErr := readBlocks(s.in, &stop, func(block []byte) {
		next, row := make(chan answers, 1), <-idle
		order <- next
		go func() {
			next <- answer(block, row)
			idle <- row
		}()
	})
	close(order)
	switch writeErr := <-written; {
	case writeErr != nil:
		return fmt.Errorf("the results could not be written: %w", writeErr)
	case readErr != nil:
		return fmt.Errorf("the rows could not be read: %w", readErr)
	case failed.Load():
		return errQuiet
	}
	return nil
}

// readBlocks hands out the input in blocks of whole lines, each ended by a line
// end, until it ends or stop is set. A block is handed out when it is large
// enough or nothing more has arrived yet.
func readBlocks(in io.Reader, stop *atomic.Bool, hand func(block []byte)) error {
	r := bufio.NewReaderSize(in, blockBytes)
	var block []byte
	for !stop.Load() {
		line, err := nextLine(r)
		if err == nil || len(line) > 0 { // the last line needs no line end
			block = append(append(block, line...), '\n')
		}
		if len(block) > 0 && (len(block) >= blockBytes || r.Buffered() == 0 || err != nil) {
			hand(block)
			block = make([]byte, 0, blockBytes+lineBytes)
		}
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// nextLine reads a line without its end. A line longer than lineBytes is cut to one
// byte more, by which answer recognises it. The slice is valid until the next call.
func nextLine(r *bufio.Reader) ([]byte, error) {
	line, err := r.ReadSlice('\n')
	if errors.Is(err, bufio.ErrBufferFull) {
		line = bytes.Clone(line[:lineBytes+1])
		for errors.Is(err, bufio.ErrBufferFull) {
			_, err = r.ReadSlice('\n')
		}
	}
	line = bytes.TrimSuffix(line, []byte("\n"))
	return line[:min(len(line), lineBytes+1)], err
}

// answer returns one line for each line of a block.
func answer(block []byte, row rowFunc) answers {
	a := answers{text: make([]byte, 0, 4*len(block))} // answers are longer than rows
	for line := range bytes.Lines(block) {
		line = bytes.TrimSuffix(line, []byte("\n"))
		before := len(a.text)
		next, err := a.text, errLongRow
		if len(line) <= lineBytes {
			next, err = row(a.text, line)
		}
		if err != nil {
			a.failed = true
			next = appendError(a.text[:before], err)
		}
		a.text = append(next, '\n')
	}
	return a
}

// appendError writes an error as one line without tabs.
func appendError(dst []byte, err error) []byte {
	return append(append(dst, "error: "...), oneLine(err.Error())...)
}

// notes writes lines to the standard error, each once however many rows raise it.
// It may be used from several goroutines.
type notes struct {
	w    io.Writer
	mu   sync.Mutex
	said map[string]bool
}

func newNotes(s streams) *notes { return &notes{w: s.err, said: map[string]bool{}} }

// caution writes one line the first time it is called with a caution: "stop: " or
// "caution: ", before that, if it is not "", what raises it, and its sentence.
func (n *notes) caution(raisedBy string, c caution.Caution) {
	n.say(word(c), raisedBy, c.Text())
}

// say writes one line the first time it is called with it.
func (n *notes) say(word, raisedBy, text string) {
	line := word + ": " + raised(raisedBy, text)
	n.mu.Lock()
	defer n.mu.Unlock()
	if n.said[line] {
		return
	}
	n.said[line] = true
	fmt.Fprintln(n.w, oneLine(line))
}

// word begins the line of a caution.
func word(c caution.Caution) string {
	if c.Stop() {
		return "stop"
	}
	return "caution"
}

// raised puts the cause in front of a text, if there is one.
func raised(by, text string) string {
	if by == "" {
		return text
	}
	return by + ": " + text
}
