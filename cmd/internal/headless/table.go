package headless

import (
	"fmt"
	"io"
	"math"
	"os"
	"runtime"
	"text/tabwriter"

	"golang.org/x/term"

	"legwright/app/caution"
	"legwright/app/units"
)

// table is what a single result looks like to people: its stops, lines of a label and
// a text, then notes.
type table struct {
	lines    [][2]string
	cautions []caution.Caution
}

func (t *table) line(label, format string, values ...any) {
	t.lines = append(t.lines, [2]string{label, fmt.Sprintf(format, values...)})
}

func (t *table) write(w io.Writer) error {
	tw := tabwriter.NewWriter(w, 0, 1, 2, ' ', 0)
	t.speak(tw, caution.Stop)
	for _, l := range t.lines {
		fmt.Fprintf(tw, "%s\t%s\n", l[0], l[1])
	}
	t.speak(tw, caution.Note)
	return tw.Flush()
}

// speak writes the cautions of one grade as lines.
func (t *table) speak(w io.Writer, g caution.Grade) {
	for _, c := range caution.OfGrade(t.cautions, g) {
		fmt.Fprintf(w, "%s\t%s\n", word(c), c.Text())
	}
}

// speakAll writes the cautions of a single result to the standard error, unless a table
// shows them to the same reader already.
func speakAll(cautions []caution.Caution, asJSON bool, s streams) {
	if !asJSON && oneReader(s) {
		return
	}
	n := newNotes(s)
	for _, c := range cautions {
		n.caution("", c)
	}
}

// oneReader reports whether whoever reads the standard error reads the results too: they go to
// a terminal, or both into one pipe or file.
func oneReader(s streams) bool {
	out, isFile := s.out.(*os.File)
	if !isFile {
		return false
	}
	if term.IsTerminal(int(out.Fd())) {
		return true
	}
	errw, isFile := s.err.(*os.File)
	if !isFile {
		return false
	}
	info, err := out.Stat()
	if err != nil {
		return false
	}
	if runtime.GOOS == "windows" && !info.Mode().IsRegular() {
		return false // there all pipes count as the same file: better said twice than never
	}
	other, err := errw.Stat()
	return err == nil && os.SameFile(info, other)
}

// degrees writes angles to a number of decimals by counting whole steps, so
// that printed figures close in the head: printed magnetic = printed grid −
// printed GMA. Bearings are rounded, and the angle between two of them is the
// difference of the rounded ones.
type degrees struct{ decimals int }

// degreesFor takes as many decimals as a figure with standard deviation sigma
// deserves, at most four; four for a sigma of zero.
func degreesFor(sigma units.Angle) degrees {
	return degrees{max(0, min(4, -units.Place(sigma.Deg(), -4)))}
}

func (d degrees) perDegree() float64 { return math.Pow10(d.decimals) }

func (d degrees) steps(a units.Angle) int { return int(math.Round(a.Deg() * d.perDegree())) }

// between is the signed difference of two bearings in steps.
func (d degrees) between(from, to int) int {
	return d.steps(units.Degrees(float64(to-from) / d.perDegree()).Signed())
}

// bearing writes a bearing of so many steps with three digits before the
// point, its north, and twice its standard deviation; 360 never appears.
func (d degrees) bearing(steps int, north string, sigma units.Angle) string {
	turn := 360 * int(d.perDegree())
	steps = (steps%turn + turn) % turn
	width := 3
	if d.decimals > 0 {
		width += 1 + d.decimals
	}
	return fmt.Sprintf("%0*.*f° %s%s", width, d.decimals, float64(steps)/d.perDegree(), north, d.halfWidth(sigma))
}

// side writes a signed angle of so many steps in words, such as "1.2° west".
func (d degrees) side(steps int, sigma units.Angle) string {
	side := ""
	if steps > 0 {
		side = " east"
	} else if steps < 0 {
		steps, side = -steps, " west"
	}
	return fmt.Sprintf("%.*f°%s%s", d.decimals, float64(steps)/d.perDegree(), side, d.halfWidth(sigma))
}

// halfWidth writes twice sigma, rounded up so that it is never understated.
func (d degrees) halfWidth(sigma units.Angle) string {
	if sigma <= 0 {
		return ""
	}
	return fmt.Sprintf(" ± %.*f", d.decimals, math.Ceil(2*sigma.Deg()*d.perDegree()-1e-9)/d.perDegree())
}
