package pdf

import (
	"fmt"
	"math"
)

// readLGI reads the LGIDict of a page, one dictionary or a list of them (OGC
// 08-139r3, clause 7).
func (d *dictionary) readLGI(o object) (frames []Frame, notes []string) {
	list, ok := d.array(o)
	if !ok {
		one, ok := d.dict(o)
		if !ok {
			return nil, nil
		}
		list = arrayObject{one}
	}
	for _, v := range list[:min(len(list), maxFrames)] {
		lgi, ok := d.dict(v)
		if !ok {
			continue
		}
		f, err := d.readRegistration(lgi)
		if err != nil {
			notes = append(notes, "a registration of the PDF cannot be used: "+err.Error())
			continue
		}
		frames = append(frames, f)
	}
	return frames, notes
}

func (d *dictionary) readRegistration(lgi dictObject) (Frame, error) {
	f := Frame{Kind: Registration}
	if err := d.readCTM(lgi["CTM"], &f); err != nil {
		return f, err
	}
	d.readTies(lgi["Registration"], &f)
	f.holdTies()
	if f.Matrix == nil && len(f.Points) < 3 {
		return f, fmt.Errorf("it has neither a CTM nor three points of Registration")
	}
	if edge, ok := d.numbers(lgi["Neatline"]); ok && len(edge) >= 6 && len(edge)%2 == 0 {
		for i := 0; i < len(edge); i += 2 {
			f.Outline = append(f.Outline, [2]float64{edge[i], edge[i+1]})
		}
	}
	projection, ok := d.dict(lgi["Projection"])
	if !ok {
		f.Notes = append(f.Notes, "the PDF gives the map's position on a grid that it does not name")
		return f, nil
	}
	d.readProjection(projection, &f)
	return f, nil
}

// readCTM reads the matrix [a b c d e f] of E = a·x + c·y + e, N = b·x + d·y + f.
func (d *dictionary) readCTM(o object, f *Frame) error {
	if o == nil {
		return nil
	}
	m, ok := d.numbers(o)
	if !ok || len(m) != 6 {
		return fmt.Errorf("its transformation matrix (CTM) is not six numbers")
	}
	if det := m[0]*m[3] - m[1]*m[2]; math.Abs(det) < 1e-18 {
		return fmt.Errorf("its transformation matrix (CTM) gives the page no area")
	}
	f.Matrix = &[6]float64{m[0], m[2], m[4], m[1], m[3], m[5]}
	return nil
}

// readTies reads the points of Registration: page x, page y, east, north.
func (d *dictionary) readTies(o object, f *Frame) {
	list, _ := d.array(o)
	for _, v := range list {
		p, ok := d.numbers(v)
		if !ok || len(p) != 4 {
			f.Notes = append(f.Notes, "a point of Registration is not four numbers and is ignored")
			continue
		}
		f.Points = append(f.Points, Point{p[0], p[1], p[2], p[3]})
	}
}

// tieWithin is how far the points of Registration may lie from what the CTM
// makes of them, in units of user space: they are usually rounded.
const tieWithin = 1

// holdTies compares the points with the matrix: the two say the same.
func (f *Frame) holdTies() {
	if f.Matrix == nil {
		return
	}
	m := *f.Matrix
	size := math.Sqrt(math.Abs(m[0]*m[4] - m[1]*m[3]))
	worst := 0.0
	for _, p := range f.Points {
		e, n := apply(m, p.X, p.Y)
		worst = max(worst, math.Hypot(e-p.East, n-p.North)/size)
	}
	if worst > tieWithin {
		f.Notes = append(f.Notes, fmt.Sprintf(
			"the points of the PDF's registration are up to %.0f page units from where its matrix puts them: one of the two is wrong", worst))
	}
}
