package uitest

import (
	"image"
	"image/color"
	"image/draw"
	"strings"
	"testing"
	"time"

	"legwright/app/calib"
	"legwright/app/session"
	"legwright/assets/demo"
	"legwright/canvas/pyramid"
	"legwright/mapio/planfile"
)

// EmptySession returns a session with an empty plan and no journal.
func EmptySession() *session.Session { return session.New(planfile.NewStore(), nil, time.Now) }

// DemoSession returns a session on the demo's plan: a calibrated, checked sheet with
// marks, legs and sights.
func DemoSession(t testing.TB) *session.Session {
	t.Helper()
	s := EmptySession()
	p, err := planfile.Decode(strings.NewReader(string(demo.Plan())))
	if err == nil {
		err = s.Use(p)
	}
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// WhiteSheet opens a white picture of 400 by 300 pixels in a session and calibrates it by
// four points of the British National Grid: a pixel is 10 m. It returns the picture to show.
func WhiteSheet(t testing.TB, s *session.Session) *pyramid.Pyramid {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 400, 300))
	draw.Draw(img, img.Rect, image.NewUniform(color.White), image.Point{}, draw.Src)
	if err := s.OpenSheet(session.Picture{Path: "/maps/ground.png", Width: 400, Height: 300}); err != nil {
		t.Fatal(err)
	}
	for _, p := range []struct {
		col, row float64
		ref      string
	}{{100, 200, "NL 21 42"}, {300, 200, "NL 23 42"}, {300, 100, "NL 23 43"}, {100, 100, "NL 21 43"}} {
		if _, err := s.AddControlPoint(calib.PicturePt{Col: p.col, Row: p.row}, p.ref); err != nil {
			t.Fatal(err)
		}
	}
	tiles := pyramid.New(img, pyramid.Options{})
	if err := tiles.WaitWhole(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { tiles.Close() })
	return tiles
}
