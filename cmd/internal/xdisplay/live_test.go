package xdisplay

import (
	"os/exec"
	"testing"
)

// TestDisplayStands brings a real display up and looks at it.
func TestDisplayStands(t *testing.T) {
	if testing.Short() {
		t.Skip("a virtual display is not started in short runs")
	}
	for _, name := range []string{"Xvfb", "openbox", "xdotool"} {
		if _, err := exec.LookPath(name); err != nil {
			t.Skipf("needs %s", name)
		}
	}
	d, err := Start(t.Context(), 320, 200)
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	img, err := d.Picture()
	if err != nil {
		t.Fatal(err)
	}
	if got := img.Bounds().Size(); got.X != 320 || got.Y != 200 {
		t.Errorf("picture of %v, want 320 × 200", got)
	}
	if _, err := d.Tool(t.Context(), "mousemove", "10", "10"); err != nil {
		t.Errorf("mouse: %v", err)
	}
}
