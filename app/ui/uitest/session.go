package uitest

import (
	"strings"
	"testing"
	"time"

	"legwright/app/session"
	"legwright/assets/demo"
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
