package planfile

import (
	"bytes"
	"encoding/json"
	"reflect"
	"strings"

	"legwright/app/plan"
)

// split decodes one JSON object into the struct v points to, by the exact keys
// of its tags, and returns all other keys as the text of an object, or "".
func split(data []byte, v any) (plan.Extra, error) {
	var all map[string]json.RawMessage
	if err := json.Unmarshal(data, &all); err != nil {
		return "", err
	}
	known := make(map[string]json.RawMessage, len(all))
	for _, k := range keysOf(reflect.TypeOf(v).Elem()) {
		if raw, ok := all[k]; ok {
			known[k] = raw
			delete(all, k)
		}
	}
	body, err := json.Marshal(known)
	if err != nil {
		return "", err
	}
	if err := json.Unmarshal(body, v); err != nil {
		return "", err
	}
	return asExtra(all)
}

func asExtra(rest map[string]json.RawMessage) (plan.Extra, error) {
	if len(rest) == 0 {
		return "", nil
	}
	text, err := json.Marshal(rest)
	return plan.Extra(text), err
}

// keysOf lists the keys of a struct's JSON tags.
func keysOf(t reflect.Type) []string {
	var out []string
	for i := range t.NumField() {
		if name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ","); name != "" {
			out = append(out, name)
		}
	}
	return out
}

// join encodes a struct as a JSON object with the kept keys behind its own.
func join(v any, extra plan.Extra) ([]byte, error) {
	body, err := json.Marshal(v)
	if err != nil || extra == "" {
		return body, err
	}
	var rest map[string]json.RawMessage
	if err := json.Unmarshal([]byte(extra), &rest); err != nil {
		return nil, err
	}
	for _, k := range keysOf(reflect.TypeOf(v)) {
		delete(rest, k)
	}
	tail, err := json.Marshal(rest)
	if err != nil || len(rest) == 0 {
		return body, err
	}
	head := bytes.TrimSuffix(body, []byte("}"))
	if len(head) > 1 {
		head = append(head, ',')
	}
	return append(head, tail[1:]...), nil
}
