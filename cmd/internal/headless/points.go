package headless

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/mapio/openfile"
)

// maxPointsBytes bounds the file of control points.
const maxPointsBytes = 4 << 20

// pointReader turns the rows of a file of control points into points.
type pointReader struct {
	system   *geodesy.System
	sigmaPx  float64
	near     *geodesy.Grid // the point before
	cautions []caution.Caution
	datum    datumOf
}

// readPointsFile reads a file of control points; "-" is the standard input.
func (r *pointReader) readPointsFile(name string, s streams) ([]calib.ControlPoint, error) {
	if name == "-" {
		return r.readPoints(s.in)
	}
	f, err := openfile.Open(name)
	if err != nil {
		return nil, fmt.Errorf("control points cannot be read: %w", err)
	}
	defer f.Close()
	points, err := r.readPoints(f)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return points, nil
}

// readPoints reads CSV with the header col,row,easting,northing or
// col,row,ref. Lines that begin with # are passed over.
func (r *pointReader) readPoints(in io.Reader) ([]calib.ControlPoint, error) {
	limited := &io.LimitedReader{R: in, N: maxPointsBytes + 1}
	c := csv.NewReader(limited)
	c.Comment, c.TrimLeadingSpace = '#', true
	head, err := c.Read()
	if err != nil {
		return nil, csvError(err)
	}
	byRef, err := headerKind(head)
	if err != nil {
		return nil, err
	}
	var points []calib.ControlPoint
	for {
		row, err := c.Read()
		if limited.N == 0 {
			return nil, fmt.Errorf("the file of control points has more than %d bytes", maxPointsBytes)
		}
		if err == io.EOF {
			return points, nil
		}
		if err != nil {
			return nil, csvError(err)
		}
		line, _ := c.FieldPos(0)
		p, err := r.point(row, byRef)
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", line, err)
		}
		points = append(points, p)
	}
}

func csvError(err error) error {
	if errors.Is(err, io.EOF) {
		return errors.New("there is no header: begin with col,row,easting,northing or col,row,ref")
	}
	return fmt.Errorf("this is not CSV: %w", err)
}

// headerKind reports whether the points come with references.
func headerKind(head []string) (byRef bool, err error) {
	var names []string
	for _, h := range head {
		names = append(names, strings.ToLower(strings.TrimSpace(strings.TrimPrefix(h, "\ufeff"))))
	}
	switch got := strings.Join(names, ","); got {
	case "col,row,easting,northing":
		return false, nil
	case "col,row,ref":
		return true, nil
	default:
		return false, fmt.Errorf("the header is %s: it must be col,row,easting,northing or col,row,ref", quote([]byte(got)))
	}
}

func (r *pointReader) point(row []string, byRef bool) (calib.ControlPoint, error) {
	p := calib.ControlPoint{SigmaPx: r.sigmaPx}
	numbers := []*float64{&p.At.Col, &p.At.Row, &p.Ref.E, &p.Ref.N}
	if byRef {
		numbers = numbers[:2]
	}
	for i, to := range numbers {
		v, err := parseNumber([]byte(strings.TrimSpace(row[i])))
		if err != nil {
			return p, err
		}
		*to = v
	}
	if !byRef {
		p.Ref = r.system.FromUnits(p.Ref.E, p.Ref.N)
		return p, nil
	}
	p.Text = strings.TrimSpace(row[2])
	ref, err := geodesy.ParseRef(p.Text, geodesy.RefContext{System: r.system, Near: r.near})
	if err != nil {
		return p, err
	}
	if !ref.LettersGiven {
		r.cautions = append(r.cautions, lettersTaken(p.Text, ref))
	}
	grid, said, err := r.datum.grid(r.system, ref)
	r.cautions = append(r.cautions, said...)
	p.Ref, p.SigmaRefM, r.near = grid, ref.LineSigma(), &grid
	return p, err
}
