package headless

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"

	"legwright/app/caution"
)

// number is a float64 that is written in full, without an exponent. NaN and
// infinities, which JSON does not have, are written null.
type number float64

// MarshalJSON writes the number in full.
func (n number) MarshalJSON() ([]byte, error) {
	v := float64(n)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return []byte("null"), nil
	}
	return appendNumber(nil, v), nil
}

// member is one key of an object with its value.
type member struct {
	key   string
	value any
}

// object is a JSON object whose keys stay in order.
type object []member

// add appends a key.
func (o *object) add(key string, value any) { *o = append(*o, member{key, value}) }

// figure appends a number and its standard deviation as key and key_sigma.
func (o *object) figure(key string, v, sigma float64) {
	o.add(key, number(v))
	o.add(key+"_sigma", number(sigma))
}

// absent appends a figure that must not be given, and its sigma, as null.
func (o *object) absent(key string) {
	o.add(key, nil)
	o.add(key+"_sigma", nil)
}

// MarshalJSON writes the keys in their order.
func (o object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, m := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		value, err := json.Marshal(m.value)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", m.key, err)
		}
		fmt.Fprintf(&b, "%q:%s", m.key, value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// numberList turns values into numbers for JSON.
func numberList(values []float64) []number {
	out := make([]number, len(values))
	for i, v := range values {
		out[i] = number(v)
	}
	return out
}

// cautionList is the key "cautions": code, grade, subject, affects and text of each;
// never null.
func cautionList(list []caution.Caution) []object {
	out := make([]object, 0, len(list))
	for _, c := range list {
		out = append(out, object{
			{"code", string(c.Code)},
			{"grade", c.Grade().String()},
			{"subject", c.Subject},
			{"affects", c.Affects.Words()},
			{"text", c.Text()},
		})
	}
	return out
}

// writeJSON writes a value indented, with a line end.
func writeJSON(w io.Writer, value any) error {
	text, err := json.MarshalIndent(value, "", "  ")
	if err != nil {
		return err
	}
	_, err = w.Write(append(text, '\n'))
	return err
}
