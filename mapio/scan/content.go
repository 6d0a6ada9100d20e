package scan

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// contentWords says what the first bytes of a file look like, and what to do with it.
func contentWords(head []byte) string {
	const choose = "; choose a PNG, JPEG, TIFF, WebP, BMP, GIF, PDF, KML or KMZ"
	for _, k := range kinds() {
		switch {
		case !has(head, k.at, k.magic):
		case k.then == "":
			return "the content looks like " + k.words + choose
		default:
			return "the content looks like " + k.words + ": " + k.then
		}
	}
	return otherWords(head) + choose
}

// otherWords is contentWords for a file of no kind that is named.
func otherWords(head []byte) string {
	if len(head) == 0 {
		return "the file is empty"
	}
	if t, ok := textStart(head); ok {
		return fmt.Sprintf("the content looks like text beginning %q", t)
	}
	if strings.Trim(string(head), "\x00") == "" {
		return "the content is nothing but zeros, as after a failed copy"
	}
	return "the content is not of any known kind"
}

// asTerrain says what to do with a file of heights.
const asTerrain = "open it as terrain"

type kind struct {
	at    int
	magic string
	words string
	then  string // what to do with it; "" for choosing another file
}

func kinds() []kind {
	return []kind{
		{0, "ncols", "an Esri ASCII grid of heights", asTerrain},
		{0, "%PDF", "a PDF document, which has to be drawn page by page", ""},
		{0, "PK\x03\x04", "a zip archive", "unpack it first"},
		{0, "\x1f\x8b", "a gzip archive", "unpack it first"},
		{0, "<!DOCTYPE html", "a web page, not the picture it shows", ""},
		{0, "<!doctype html", "a web page, not the picture it shows", ""},
		{0, "<html", "a web page, not the picture it shows", ""},
		{0, "<svg", "an SVG drawing", "export it as a picture first"},
		{0, "<?xml", "an XML document", ""},
		{4, "ftypavif", "an AVIF picture", "save it as PNG or JPEG first"},
		{4, "ftyphe", "a HEIC picture", "save it as PNG or JPEG first"},
		{4, "ftypmif1", "a HEIC picture", "save it as PNG or JPEG first"},
		{0, "\x00\x00\x00\x0cjP  ", "a JPEG 2000 picture", "save it as PNG or JPEG first"},
		{0, "\xff\x0a", "a JPEG XL picture", "save it as PNG or JPEG first"},
		{0, "\x00\x00\x00\x0cJXL ", "a JPEG XL picture", "save it as PNG or JPEG first"},
		{0, "8BPS", "a layered drawing from an image editor", "export it as PNG first"},
		{0, "\x7fELF", "a program", ""},
		{0, "MZ", "a program", ""},
	}
}

// textStart gives the beginning of a text, if head is one.
func textStart(head []byte) (string, bool) {
	s := strings.TrimPrefix(string(head), "\ufeff")
	if len(head) >= utf8.UTFMax { // a rune may be cut at the end
		for i := 0; i < utf8.UTFMax-1 && !utf8.ValidString(s); i++ {
			s = s[:len(s)-1]
		}
	}
	if !utf8.ValidString(s) {
		return "", false
	}
	for _, r := range s {
		if !unicode.IsPrint(r) && !unicode.IsSpace(r) {
			return "", false
		}
	}
	words := []rune(strings.Join(strings.Fields(s), " "))
	if len(words) > 40 {
		words = append(words[:40], '…')
	}
	return string(words), true
}
