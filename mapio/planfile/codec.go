package planfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"reflect"
	"slices"
	"unicode/utf8"

	"legwright/app/plan"
)

// Encode writes a plan as the text of a plan file. A plan that is not valid is
// refused with its *plan.Invalid. Picture names are written as they are.
func Encode(w io.Writer, p *plan.Plan) error {
	text, err := encode(p)
	if err != nil {
		return err
	}
	_, err = w.Write(text)
	return err
}

// encode lays the file out for people: indented, but each thing with many points on one
// line.
func encode(p *plan.Plan) ([]byte, error) {
	if err := p.Validate(); err != nil {
		return nil, err
	}
	return layOut(toShape(p))
}

// layOut writes the text of a file.
func layOut(s planShape) ([]byte, error) {
	long := []longList{rowsOf("hazards", s.Hazards), rowsOf("havens", s.Havens), rowsOf("lines", s.Lines), rowsOf("areas", s.Areas), rowsOf("escapes", s.Escapes), rowsOf("tracks", s.Tracks)}
	s.Hazards, s.Havens, s.Lines, s.Areas, s.Escapes, s.Tracks = nil, nil, nil, nil, nil, nil
	text, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("the plan cannot be encoded: %w", err)
	}
	text = bytes.TrimSuffix(text, []byte("\n}"))
	for _, l := range long {
		if text, err = l.appendTo(text); err != nil {
			return nil, err
		}
	}
	text = append(text, "\n}"...)
	return append(text, '\n'), nil
}

// longList is a list of the file whose entries stand on one line each.
type longList struct {
	key  string
	rows []any
}

func rowsOf[T any](key string, list []T) longList {
	return longList{key, each(list, func(x T) any { return x })}
}

// appendTo writes the list behind what stands in the object so far.
func (l longList) appendTo(text []byte) ([]byte, error) {
	if len(l.rows) == 0 {
		return text, nil
	}
	text = fmt.Appendf(text, ",\n  %q: [", l.key)
	for i, row := range l.rows {
		line, err := json.Marshal(row)
		if err != nil {
			return nil, fmt.Errorf("entry %d of %s cannot be encoded: %w", i+1, l.key, err)
		}
		if i > 0 {
			text = append(text, ',')
		}
		text = append(append(text, "\n    "...), line...)
	}
	return append(text, "\n  ]"...), nil
}

// Decode reads the text of a plan file and checks the plan. Control characters
// in its texts are replaced and picked positions that lie elsewhere by their sheet are
// moved there, which the plan's Mended says. Every list is counted before anything else is done. Errors:
// *NotAPlan, *NewerVersion, *TooMany, *CutOff, *Broken, ErrTooLarge.
func Decode(r io.Reader) (*plan.Plan, error) {
	text, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	if err != nil {
		return nil, err
	}
	if len(text) > MaxBytes {
		return nil, ErrTooLarge
	}
	return decode(text)
}

func decode(text []byte) (*plan.Plan, error) {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	if err := checkHead(text); err != nil {
		return nil, err
	}
	c := newChecker(text)
	if err := c.value("it", listRule{}, reflect.TypeFor[planShape]()); err != nil {
		return nil, err
	}
	var s planShape
	if err := json.Unmarshal(text, &s); err != nil {
		return nil, notJSON(err, text)
	}
	c.restore(&s)
	p, err := fromShape(s)
	if err != nil {
		return nil, err
	}
	if err := p.Validate(); err != nil {
		return nil, &Broken{err.Error()}
	}
	if title := tangled(p); title != "" {
		return nil, &Broken{fmt.Sprintf("the outline of %s crosses itself", title)}
	}
	held := p.RepairPositions()
	if held == p {
		return p, nil
	}
	if err := held.Validate(); err != nil { // a calibration may put a position outside any grid
		return nil, &Broken{err.Error()}
	}
	return held, nil
}

// tangled names the first area of a plan whose outline crosses itself, "" for none.
func tangled(p *plan.Plan) string {
	if i := slices.IndexFunc(p.Hazards, plan.Hazard.Tangled); i >= 0 {
		return p.Hazards[i].Title()
	}
	if i := slices.IndexFunc(p.Areas, plan.Area.Tangled); i >= 0 {
		return p.Areas[i].Title()
	}
	return ""
}

// checkHead says plainly what a file is that is not a plan of a known version.
func checkHead(text []byte) error {
	body := bytes.TrimSpace(text)
	switch {
	case len(body) == 0:
		return &NotAPlan{"it is empty"}
	case body[0] != '{' && json.Valid(body):
		return &NotAPlan{"it is JSON, but not an object"}
	case body[0] != '{':
		return &NotAPlan{"it is not JSON"}
	case !utf8.Valid(text):
		return &NotAPlan{"it is not UTF-8 text"}
	}
	format, version, wrong := readHead(text)
	switch {
	case format != formatName:
		var whole json.RawMessage
		if err := json.Unmarshal(text, &whole); err != nil {
			return notJSON(err, text)
		}
		return &NotAPlan{fmt.Sprintf("its format is not %q", formatName)}
	case wrong != nil || version == nil || *version < 1 || *version != math.Trunc(*version):
		return &Broken{"its version must be a whole number, 1 or more"}
	case *version > formatVersion:
		return &NewerVersion{int(min(*version, 1e9)), formatVersion}
	}
	return nil
}

// readHead returns the format and the version that the file states. It skips other
// keys without decoding them and stops at the second of the two, so that a large
// file is refused as quickly as a small one.
func readHead(text []byte) (format string, version *float64, wrong error) {
	l := lexer{text: text}
	found := 0
	_, _ = l.members(func(key string) error { // the error only stops the walk
		raw := l.skip()
		switch key {
		case "format":
			_ = json.Unmarshal(raw, &format) // a value of another kind is not the name
			found++
		case "version":
			wrong = json.Unmarshal(raw, &version)
			found++
		}
		if found == 2 {
			return io.EOF
		}
		return nil
	})
	return format, version, wrong
}

// notJSON returns why a text cannot be decoded: it ends too early, is not JSON, or
// has a value of the wrong kind.
func notJSON(err error, text []byte) error {
	var syntax *json.SyntaxError
	switch {
	case !errors.As(err, &syntax):
		return &Broken{wrongKind(err)}
	case syntax.Offset >= int64(len(bytes.TrimSpace(text))):
		return &CutOff{len(text)}
	}
	return &Broken{fmt.Sprintf("it is not JSON after byte %d (%v)", syntax.Offset, err)}
}

// wrongKind says in plain words what stands where something else is wanted.
func wrongKind(err error) string {
	var wrong *json.UnmarshalTypeError
	if !errors.As(err, &wrong) {
		return err.Error()
	}
	where := wrong.Field
	if where == "" {
		where = "one of its parts"
	}
	return fmt.Sprintf("%s must be %s (it is: %s)", where, kindWord(wrong.Type), wrong.Value)
}

// kindWord names what a Go type is in a JSON file.
func kindWord(t reflect.Type) string {
	switch t.Kind() {
	case reflect.String:
		return "text"
	case reflect.Bool:
		return "true or false"
	case reflect.Int:
		return "a whole number"
	case reflect.Float64:
		return "a number that is not too large"
	case reflect.Slice, reflect.Array:
		return "a list"
	}
	return "an object"
}
