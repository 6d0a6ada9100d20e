package notices

import (
	"strings"
	"testing"
)

func TestAllCarriesEachNotice(t *testing.T) {
	t.Parallel()
	all := strings.Join(All(), "\n")
	for _, want := range []string{"Ordnance Survey", "B612", "DejaVu", "World Magnetic Model", "PDFium", "FreeType Project LICENSE", "Independent JPEG Group", "UNICODE LICENSE"} {
		if !strings.Contains(all, want) {
			t.Errorf("the notices do not speak of %q", want)
		}
	}
}
