package planfile

import (
	"legwright/app/plan"
)

type terrainShape struct {
	Path       string `json:"path"`
	SHA256     string `json:"sha256"`
	Feet       bool   `json:"feet,omitempty"`
	EPSG       int    `json:"epsg,omitempty"`
	Definition string `json:"definition,omitempty"`

	CutFrom           string `json:"cut_from,omitempty"`
	CutFromEPSG       int    `json:"cut_from_epsg,omitempty"`
	CutFromDefinition string `json:"cut_from_definition,omitempty"`
}

func terrainToShape(t plan.Terrain) terrainShape {
	return terrainShape{
		Path: t.Path, SHA256: t.SHA256, Feet: t.Feet, EPSG: t.Code.EPSG(), Definition: definition(t.Code),
		CutFrom: t.CutFrom, CutFromEPSG: t.CutFromCode.EPSG(), CutFromDefinition: definition(t.CutFromCode),
	}
}

func (r *reader) terrain(s terrainShape) plan.Terrain {
	return plan.Terrain{
		Path: s.Path, SHA256: s.SHA256, Feet: s.Feet, Code: r.code(s.EPSG, s.Definition),
		CutFrom: s.CutFrom, CutFromCode: r.code(s.CutFromEPSG, s.CutFromDefinition),
	}
}

// countedToShape is a height that was counted, nil for none.
func countedToShape(c plan.Counted) *float64 {
	if !c.Known {
		return nil
	}
	return &c.M
}

func counted(m *float64) plan.Counted {
	if m == nil {
		return plan.Counted{}
	}
	return plan.Count(*m)
}
