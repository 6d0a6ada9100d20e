package checksheet

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"

	"legwright/app/geodesy"
)

// Case is a wrong sheet as a file: what a person set and typed, what the sheet is in
// truth, and what the program must never say of it.
type Case struct {
	What     string         `json:"what"`
	Never    []Outcome      `json:"never"`
	Code     geodesy.Code   `json:"code"`
	Photo    bool           `json:"photo,omitempty"`
	FocalPx  float64        `json:"focal_px,omitempty"`
	Matrix   *[6]float64    `json:"matrix,omitempty"` // given by a file, in place of points
	Points   []CasePoint    `json:"points,omitempty"`
	Evidence []CaseEvidence `json:"evidence,omitempty"`
	Truth    []CasePoint    `json:"truth"` // some positions and where they really lie
	Name     bool           `json:"wrong_name,omitempty"`
}

// Outcome is something that the program must never say of a wrong sheet.
type Outcome string

// The outcomes: checked although wrong, and neither stopped nor with an open slip.
const (
	CheckedWrong Outcome = "checked"
	Silent       Outcome = "silent"
)

// CasePoint is a position in the picture with easting and northing.
type CasePoint struct {
	Col       float64 `json:"col"`
	Row       float64 `json:"row"`
	E         float64 `json:"e"`
	N         float64 `json:"n"`
	SigmaRefM float64 `json:"sigma_ref_m,omitempty"`
}

// CaseEvidence is evidence as it was typed.
type CaseEvidence struct {
	Source string  `json:"source"`
	Col    float64 `json:"col"`
	Row    float64 `json:"row"`
	Text   string  `json:"text"`
}

// Case returns the sheet as a file.
func (s *Sheet) Case(what string, never []Outcome, evidence ...Evidence) Case {
	c := Case{What: what, Never: never, Code: s.Code, Photo: s.Paper.Photo(), FocalPx: s.FocalPx, Name: s.Code != s.Ground.Code}
	for _, p := range s.Points {
		c.Points = append(c.Points, spot(p.At, p.Ref))
	}
	for _, v := range evidence {
		c.Evidence = append(c.Evidence, CaseEvidence{Source: v.Source, Col: cent(v.At.X), Row: cent(v.At.Y), Text: v.Text})
	}
	for i, p := range Probes() {
		if i%3 == 0 {
			c.Truth = append(c.Truth, spot(p, s.Truth.Grid(p)))
		}
	}
	return c
}

func spot(p Pt, g Coord) CasePoint {
	return CasePoint{Col: cent(p.X), Row: cent(p.Y), E: cent(g.E), N: cent(g.N)}
}

// cent rounds to two decimals, which is finer than any click.
func cent(v float64) float64 { return math.Round(v*100) / 100 }

// Save writes the case into a folder, under its own name with a number.
func (c Case) Save(folder, name string) error {
	data, err := json.Marshal(c)
	if err != nil {
		return err
	}
	for i := 1; ; i++ {
		f, err := os.OpenFile(filepath.Join(folder, fmt.Sprintf("%s-%02d.json", name, i)), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
		if os.IsExist(err) {
			continue
		}
		if err != nil {
			return err
		}
		if _, err = f.Write(append(data, '\n')); err != nil {
			return err
		}
		return f.Close()
	}
}

// ReadCases reads every case of a folder, by file name.
func ReadCases(folder string) (map[string]Case, error) {
	files, err := filepath.Glob(filepath.Join(folder, "*.json"))
	if err != nil {
		return nil, err
	}
	list := map[string]Case{}
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		var c Case
		if err := json.Unmarshal(data, &c); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		list[filepath.Base(name)] = c
	}
	return list, nil
}
