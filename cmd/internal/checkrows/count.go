package main

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// counts holds how often something happened, by kind.
type counts map[string]*share

type share struct{ hits, of int }

func (c counts) add(kind string, hit bool) {
	if c[kind] == nil {
		c[kind] = new(share)
	}
	c[kind].of++
	if hit {
		c[kind].hits++
	}
}

// of is the share of a kind, none of a kind that never came.
func (c counts) of(kind string) share {
	if c[kind] == nil {
		return share{}
	}
	return *c[kind]
}

func (c counts) total() (t share) {
	for _, s := range c {
		t.hits, t.of = t.hits+s.hits, t.of+s.of
	}
	return t
}

// percent is the share in percent; 0 of none.
func (s share) percent() float64 {
	if s.of == 0 {
		return 0
	}
	return 100 * float64(s.hits) / float64(s.of)
}

func (c counts) String() string {
	var b strings.Builder
	for _, k := range slices.Sorted(maps.Keys(c)) {
		fmt.Fprintf(&b, "%s: %d of %d\n", k, c[k].hits, c[k].of)
	}
	return b.String()
}

// least and most are the lowest and highest percentages of the kinds.
func (c counts) least() float64 {
	low := 100.0
	for _, s := range c {
		low = min(low, s.percent())
	}
	return low
}

func (c counts) most() float64 {
	var high float64
	for _, s := range c {
		high = max(high, s.percent())
	}
	return high
}
