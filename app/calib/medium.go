package calib

import "fmt"

// Medium is how a picture of a map came about, which says how far its paper
// may have stretched and bent. The zero value is Scan.
type Medium int

// The media. The paper of a scan stretches, shears and bends a little. A
// photograph of paper adds the perspective of its camera and needs five control
// points. A picture that a program drew has a tenth of a scan's distortion.
const (
	Scan Medium = iota
	Photograph
	Drawn
)

// Known reports whether m is one of the media above.
func (m Medium) Known() bool { return m >= Scan && m <= Drawn }

// String returns "scan", "photograph" or "drawn".
func (m Medium) String() string {
	switch m {
	case Scan:
		return "scan"
	case Photograph:
		return "photograph"
	case Drawn:
		return "drawn"
	}
	return fmt.Sprintf("medium %d", int(m))
}

// ParseMedium reads what String writes. The error names the words allowed.
func ParseMedium(text string) (Medium, error) {
	for _, m := range []Medium{Scan, Photograph, Drawn} {
		if text == m.String() {
			return m, nil
		}
	}
	return Scan, fmt.Errorf("medium %q is not known: use scan, photograph or drawn", text)
}
