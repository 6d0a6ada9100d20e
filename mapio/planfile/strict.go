package planfile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"legwright/app/plan"
)

// listRule names the entries of a list in the file, and the most allowed.
type listRule struct {
	one, many string
	most      int
	total     bool // most applies to all such lists of the file together
}

// checker walks over the text of a plan file before encoding/json reads it, and
// refuses what encoding/json accepts: lists of any length, null in place of a number,
// keys in wrong capitals, repeated keys, short pairs of numbers. It also keeps the
// keys that this version does not know.
type checker struct {
	lexer
	rules map[string]listRule
	keys  map[reflect.Type]keySet
	total map[string]int                // entries so far of the lists with rule total, by what they are
	kept  map[reflect.Type][]plan.Extra // by shape, in the order of the file
	extra map[string]json.RawMessage    // unknown keys of the current object
}

// keySet lists the keys of one shape.
type keySet struct {
	fields map[string]int // field number by exact key
	needed []string       // required keys
	keeps  bool           // unknown keys are kept
}

func newChecker(text []byte) *checker {
	return &checker{
		lexer: lexer{text: text}, rules: listRules(), keys: map[reflect.Type]keySet{},
		kept: map[reflect.Type][]plan.Extra{}, total: map[string]int{},
	}
}

// value checks a value of type t. name is what error messages call it; rule applies
// if it is a list.
func (c *checker) value(name string, rule listRule, t reflect.Type) error {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	switch first := c.next(); {
	case bytes.HasPrefix(c.text[c.at:], []byte("null")):
		return &Broken{name + " is null, but needs a value"}
	case first == '{' && t.Kind() == reflect.Struct:
		return c.object(t)
	case first == '[' && t.Kind() == reflect.Slice:
		return c.list(rule, t)
	case first == '[' && t.Kind() == reflect.Array:
		return c.pair(t)
	}
	c.skip()
	return nil
}

// object checks the keys of an object of type t.
func (c *checker) object(t reflect.Type) error {
	known, outer := c.keysOf(t), c.extra
	c.extra = nil
	var seen uint64
	whole, err := c.members(func(key string) error {
		i, ok := known.fields[key]
		switch {
		case ok && seen&(1<<i) != 0:
			return &Broken{fmt.Sprintf("the key %q appears twice", key)}
		case ok:
			seen |= 1 << i
			return c.value(strconv.Quote(key), c.rules[key], t.Field(i).Type)
		}
		return c.unknown(key, known)
	})
	if err == nil && whole {
		err = known.missing(seen)
	}
	if known.keeps {
		c.kept[t] = append(c.kept[t], asExtra(c.extra))
	}
	c.extra = outer
	return err
}

// unknown keeps the value of an unknown key. It refuses a key that differs from a
// known one only in capitals: encoding/json would read it as that key.
func (c *checker) unknown(key string, known keySet) error {
	for k := range known.fields {
		if strings.EqualFold(k, key) {
			return &Broken{fmt.Sprintf("the key %q must be written %q", key, k)}
		}
	}
	raw := c.skip()
	if known.keeps {
		if c.extra == nil {
			c.extra = map[string]json.RawMessage{}
		}
		c.extra[key] = raw
	}
	return nil
}

// missing names a required key that is absent.
func (k keySet) missing(seen uint64) error {
	for _, key := range k.needed {
		if seen&(1<<k.fields[key]) == 0 {
			return &Broken{fmt.Sprintf("%q is missing", key)}
		}
	}
	return nil
}

// list checks the entries of a list and their number.
func (c *checker) list(rule listRule, t reflect.Type) error {
	n := 0
	if rule.total {
		n = c.total[rule.many]
	}
	c.take('[')
	for i := 1; c.next() != ']' && c.at < len(c.text); i++ {
		if n++; n > rule.most {
			return &TooMany{What: rule.many, Most: rule.most}
		}
		if err := c.value("it", listRule{}, t.Elem()); err != nil {
			return within(err, rule.one, i)
		}
		if c.next() != ',' {
			break
		}
		c.at++
	}
	if rule.total {
		c.total[rule.many] = n
	}
	c.take(']')
	return nil
}

// pair checks a list of fixed length, such as a latitude and a longitude:
// encoding/json would set 0 for a missing number.
func (c *checker) pair(t reflect.Type) error {
	c.take('[')
	n := 0
	for c.next() != ']' && c.at < len(c.text) {
		if n++; n > t.Len() {
			break
		}
		if err := c.value("one of its numbers", listRule{}, t.Elem()); err != nil {
			return err
		}
		if c.next() != ',' {
			break
		}
		c.at++
	}
	if n != t.Len() {
		return &Broken{fmt.Sprintf("it must have %d numbers", t.Len())}
	}
	c.take(']')
	return nil
}

// within adds the entry of a list to an error.
func within(err error, one string, i int) error {
	switch e := err.(type) {
	case *Broken:
		return &Broken{fmt.Sprintf("%s %d: %s", one, i, e.Reason)}
	case *TooMany:
		return &TooMany{What: e.What, Most: e.Most, Where: strings.TrimSuffix(fmt.Sprintf("%s %d, %s", one, i, e.Where), ", ")}
	}
	return err
}

// restore puts the kept keys back into their shapes.
func (c *checker) restore(s *planShape) {
	s.extra = c.kept[reflect.TypeFor[planShape]()][0]
	for i := range s.Sheets {
		s.Sheets[i].extra = c.kept[reflect.TypeFor[sheetShape]()][i]
	}
}

func (c *checker) keysOf(t reflect.Type) keySet {
	if k, ok := c.keys[t]; ok {
		return k
	}
	k := keySet{fields: map[string]int{}}
	for i := range t.NumField() {
		f := t.Field(i)
		key, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case key != "":
			k.fields[key] = i
		case f.Name == "extra":
			k.keeps = true
		}
		if f.Tag.Get("need") != "" {
			k.needed = append(k.needed, key)
		}
	}
	c.keys[t] = k
	return k
}

// asExtra is the text of the kept keys, "" for none.
func asExtra(rest map[string]json.RawMessage) plan.Extra {
	if len(rest) == 0 {
		return ""
	}
	text, err := json.Marshal(rest)
	if err != nil {
		return "" // not JSON: the decoder reports it
	}
	return plan.Extra(text)
}

// join encodes a shape as a JSON object with the kept keys behind its own.
func join(v any, extra plan.Extra) ([]byte, error) {
	body, err := json.Marshal(v)
	if err != nil || extra == "" {
		return body, err
	}
	return append(append(body[:len(body)-1], ','), extra[1:]...), nil
}

// MarshalJSON writes the keys that were kept, too.
func (s planShape) MarshalJSON() ([]byte, error) {
	type plain planShape
	return join(plain(s), s.extra)
}

// MarshalJSON writes the keys that were kept, too.
func (s sheetShape) MarshalJSON() ([]byte, error) {
	type plain sheetShape
	return join(plain(s), s.extra)
}
