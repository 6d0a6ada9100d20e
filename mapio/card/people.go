package card

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// People are what a base sheet says of the party: personal data, which stands on that sheet
// alone. The names of its JSON keys are those of the file that ReadPeople reads.
type People struct {
	Party      []Person `json:"people"`
	Experience string   `json:"experience,omitempty"` // of the party
	Shelter    string   `json:"shelter,omitempty"`    // colours of tents, group shelters and bags
	Vehicle    string   `json:"vehicle,omitempty"`
	VehicleAt  string   `json:"vehicle_stands_at,omitempty"`
	Emergency  string   `json:"emergency_number"`  // to ring at ACT AT; never assumed from a country
	AskFor     string   `json:"ask_for,omitempty"` // whom to ask for on that number
}

// Person is one of the party.
type Person struct {
	Name     string `json:"name"`
	Phone    string `json:"phone,omitempty"`
	PhoneOn  string `json:"phone_on,omitempty"` // when it is switched on
	Clothing string `json:"clothing,omitempty"` // its colours
	Medical  string `json:"medical,omitempty"`
}

// Limits of a people file: one that exceeds them is refused.
const (
	mostPeopleBytes = 256 << 10
	mostPeople      = 60
	mostWords       = 600 // letters in one value
)

// ReadPeople reads the people of a base sheet from JSON, UTF-8, at most 256 KiB. A key that is
// not known is refused: what it held would be missing on the paper. Errors are sentences, those
// of Check among them.
func ReadPeople(r io.Reader) (p People, err error) {
	data, err := io.ReadAll(io.LimitReader(r, mostPeopleBytes+1))
	switch {
	case err != nil:
		return People{}, fmt.Errorf("the people file cannot be read: %w", err)
	case len(data) > mostPeopleBytes:
		return People{}, fmt.Errorf("the people file is larger than %d KiB: shorten it", mostPeopleBytes>>10)
	case !utf8.Valid(data):
		return People{}, errors.New("the people file is not UTF-8: save it as UTF-8")
	}
	in := json.NewDecoder(strings.NewReader(string(data)))
	in.DisallowUnknownFields()
	if err := in.Decode(&p); err != nil {
		return People{}, fmt.Errorf("the people file cannot be read: %s", strings.TrimPrefix(err.Error(), "json: "))
	}
	if _, err := in.Token(); err != io.EOF {
		return People{}, errors.New("the people file has text after its last brace: delete that text")
	}
	return p, p.Check()
}

// Check returns why a base sheet cannot be made of the people: nobody is named, the emergency
// number is missing, or a value is too long.
func (p People) Check() error {
	switch {
	case len(p.Party) == 0:
		return errors.New("nobody is named: the base sheet needs the name of each person")
	case len(p.Party) > mostPeople:
		return fmt.Errorf("%d people are named, but a base sheet takes up to %d: print a second sheet for the others", len(p.Party), mostPeople)
	case !strings.ContainsFunc(p.Emergency, unicode.IsDigit):
		return errors.New("the emergency number is missing: give the one that works where the party walks")
	}
	all := []string{p.Experience, p.Shelter, p.Vehicle, p.VehicleAt, p.Emergency, p.AskFor}
	for i, x := range p.Party {
		if strings.TrimSpace(x.Name) == "" {
			return fmt.Errorf("person %d has no name: name each person", i+1)
		}
		all = append(all, x.Name, x.Phone, x.PhoneOn, x.Clothing, x.Medical)
	}
	for _, text := range all {
		if n := utf8.RuneCountInString(text); n > mostWords {
			return fmt.Errorf("the entry that begins %.20q has %d letters: shorten it to %d or fewer", text, n, mostWords)
		}
	}
	return nil
}

// numbers are the names and numbers to ring, "" where nobody has a telephone.
func (p People) numbers() string {
	var out []string
	for _, x := range p.Party {
		if x.Phone != "" {
			out = append(out, x.Name+" "+unbroken(x.Phone))
		}
	}
	return strings.Join(out, "; ")
}

// words are what the sheet says below the name of a person, a line each.
func (x Person) words() string {
	phone := "No telephone given."
	if x.Phone != "" {
		phone = joined(", ", "Telephone "+unbroken(x.Phone), labelled("switched on: ", x.PhoneOn))
	}
	return joined("\n", phone, labelled("Clothing: ", x.Clothing), labelled("Medical: ", x.Medical))
}
