package gpx

import (
	"bytes"
	"fmt"
	"io"
	"regexp"
	"unicode/utf8"

	"golang.org/x/net/html/charset"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

// declaration matches the encoding that an XML declaration names.
var declaration = regexp.MustCompile(`^\s*<\?xml[^>]*encoding\s*=\s*["']([A-Za-z0-9._-]+)["']`)

// toUTF8 converts the text of a file to UTF-8, from the encoding that its byte order
// mark shows, else from the one that its XML declaration names, else UTF-8.
func toUTF8(raw []byte) ([]byte, error) {
	switch {
	case bytes.HasPrefix(raw, []byte{0xFF, 0xFE}), bytes.HasPrefix(raw, []byte{0xFE, 0xFF}):
		out, _, err := transform.Bytes(unicode.UTF16(unicode.BigEndian, unicode.UseBOM).NewDecoder(), raw)
		if err != nil {
			return nil, fmt.Errorf("%w (UTF-16)", ErrEncoding)
		}
		return valid(out, "UTF-16")
	case bytes.HasPrefix(raw, []byte{0xEF, 0xBB, 0xBF}):
		return valid(raw[3:], "UTF-8")
	}
	name := "UTF-8"
	if m := declaration.FindSubmatch(raw[:min(len(raw), 400)]); m != nil {
		name = string(m[1])
	}
	enc, canonical := charset.Lookup(name)
	if enc == nil {
		return nil, fmt.Errorf("%w (%s is not known)", ErrEncoding, name)
	}
	if canonical == "utf-8" {
		return valid(raw, name)
	}
	out, err := io.ReadAll(transform.NewReader(bytes.NewReader(raw), enc.NewDecoder()))
	if err != nil {
		return nil, fmt.Errorf("%w (%s)", ErrEncoding, name)
	}
	return valid(out, name)
}

func valid(text []byte, name string) ([]byte, error) {
	if !utf8.Valid(text) {
		return nil, fmt.Errorf("%w (%s)", ErrEncoding, name)
	}
	return text, nil
}
