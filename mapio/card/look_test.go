package card

import (
	"context"
	"os"
	"testing"

	"legwright/app/plan"
	"legwright/mapio/paper"
)

func TestLook(t *testing.T) {
	dir := os.Getenv("CARD_LOOK")
	if dir == "" {
		t.Skip()
	}
	for name, s := range map[string]Source{"demo": demoSource(t), "sixty": sourceOf(t, route(60, plan.Letters)), "one": sourceOf(t, route(1, plan.Letters))} {
		c := contentOf(t, s)
		for _, size := range paper.Sizes() {
			for _, x := range []paper.Size{size, size.Landscape()} {
				b, err := c.Hill(context.Background(), Print{Size: x})
				if err != nil {
					t.Errorf("%s %s: %v", name, x, err)
					continue
				}
				way := "p"
				if x.Width > x.Height {
					way = "l"
				}
				if err := os.WriteFile(dir+"/"+name+"-"+size.Name+way+".pdf", b, 0o644); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
}
