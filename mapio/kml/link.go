package kml

import (
	"fmt"
	"net/url"
	"path"
	"strings"
)

// Path gives the names under which an overlay's picture may lie, relative to
// the document and with slashes, the likeliest first: as the link has it, and
// with its percent signs resolved. A link to the net, to an absolute path or
// out of the document's folder is not followed and gives an error that wraps
// ErrLink.
func (o Overlay) Path() ([]string, error) {
	first, err := within(o.Href)
	if err != nil {
		return nil, err
	}
	names := []string{first}
	if plain, err := url.PathUnescape(o.Href); err == nil && plain != o.Href {
		second, err := within(plain)
		if err != nil {
			return nil, err
		}
		names = append(names, second)
	}
	return names, nil
}

// within cleans a link that stays in its folder.
func within(href string) (string, error) {
	s := strings.ReplaceAll(href, `\`, "/")
	head, _, scheme := strings.Cut(s, ":")
	switch {
	case strings.HasPrefix(strings.ToLower(s), "http:"), strings.HasPrefix(strings.ToLower(s), "https:"):
		return "", fmt.Errorf("%w: the picture is on the internet (%.60q), and nothing is fetched from there; save the picture in the file's folder, and put only its name in the file", ErrLink, href)
	case strings.HasPrefix(s, "/"), scheme && !strings.Contains(head, "/"):
		return "", fmt.Errorf("%w: %.60q is an absolute path; put the picture in the file's folder, and only its name in the file", ErrLink, href)
	case strings.ContainsAny(s, "\x00"):
		return "", fmt.Errorf("%w: %.60q is not the name of a file", ErrLink, href)
	}
	p := path.Clean(s)
	if p == ".." || strings.HasPrefix(p, "../") {
		return "", fmt.Errorf("%w: %.60q leads out of the file's folder; put the picture in that folder, and only its name in the file", ErrLink, href)
	}
	if p == "." {
		return "", fmt.Errorf("%w: %.60q names no file", ErrLink, href)
	}
	return p, nil
}
