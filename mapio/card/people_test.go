package card

import (
	"bytes"
	"encoding/json"
	"reflect"
	"strings"
	"testing"
)

// What is written is read back, and what is missing, unknown or too much is refused in a
// sentence.
func TestReadPeople(t *testing.T) {
	t.Parallel()
	data, err := json.Marshal(somebody())
	if err != nil {
		t.Fatal(err)
	}
	if p, err := ReadPeople(bytes.NewReader(data)); err != nil || !reflect.DeepEqual(p, somebody()) {
		t.Errorf("%+v, %v", p, err)
	}
	for text, want := range map[string]string{
		`{"people":[{"name":"A"}]}`:                                                                     "emergency number is missing",
		`{"people":[{"name":"A"}],"emergency_number":"ring them"}`:                                      "emergency number is missing",
		`{"people":[],"emergency_number":"000"}`:                                                        "nobody is named",
		`{"people":[{"name":" "}],"emergency_number":"000"}`:                                            "person 1 has no name",
		`{"people":[{"name":"A","fone":"1"}],"emergency_number":"000"}`:                                 `unknown field "fone"`,
		`{"people":[{"name":"A"}],"emergency_number":"000"} {}`:                                         "text after its last brace",
		`{"people":[{"name":"` + strings.Repeat("a", 601) + `"}],"emergency_number":"000"}`:             "has 601 letters",
		`{"people":[` + strings.Repeat(`{"name":"A"},`, 60) + `{"name":"A"}],"emergency_number":"000"}`: "61 people are named",
		"\xff":                                 "not UTF-8",
		"":                                     "cannot be read",
		strings.Repeat(" ", mostPeopleBytes+1): "larger than 256 KiB",
	} {
		if _, err := ReadPeople(strings.NewReader(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.60s: %v, want %q", text, err, want)
		}
	}
}

// FuzzReadPeople: what is read can be checked and is read back from what it is written as.
func FuzzReadPeople(f *testing.F) {
	f.Add([]byte(`{"people":[{"name":"A","phone":"1"}],"emergency_number":"000"}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := ReadPeople(bytes.NewReader(data))
		if err != nil {
			return
		}
		again, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		if q, err := ReadPeople(bytes.NewReader(again)); err != nil || !reflect.DeepEqual(p, q) {
			t.Errorf("%+v came back as %+v, %v", p, q, err)
		}
	})
}
