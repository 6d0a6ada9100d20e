package files

import (
	"errors"
	"fmt"
)

// ClearStore deletes the copies kept of pictures, once the person agrees.
func (p *Pictures) ClearStore() {
	store := p.Desk.Source().Store
	if store == nil {
		p.Foot.Fail(errors.New("no pictures are stored: there is no folder for them"))
		return
	}
	bytes, sheets := store.Size()
	if sheets == 0 {
		p.Foot.Say("No pictures are stored.")
		return
	}
	text := fmt.Sprintf("%s, %s: copies that make a picture open faster the second time. "+
		"The original files and your plans are not touched.", CountOf(sheets, "picture"), Megabytes(bytes))
	p.Dialogs.Warn("Delete stored pictures", text, "Delete", func() {
		p.Foot.Try(store.Clear(), "Stored pictures deleted: "+Megabytes(bytes)+".")
	}, nil)
}

// Megabytes writes a size of memory.
func Megabytes(n int64) string {
	switch {
	case n <= 0:
		return "0 MB"
	case n < 10_000_000:
		return fmt.Sprintf("%.1f MB", float64(n)/1e6)
	}
	return fmt.Sprintf("%.0f MB", float64(n)/1e6)
}
