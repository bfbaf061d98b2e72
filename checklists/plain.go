package checklists

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
)

// Plain reads one small YAML or JSON document that a person wrote, within the
// bounds and by the rules of a pack's file, and gives groups of keys as
// map[string]any, lists as []any, and texts, float64, bool or nil. The error
// says where and what, on one line.
func Plain(src []byte) (any, error) {
	trimmed := bytes.TrimSpace(bytes.TrimPrefix(src, []byte("\ufeff")))
	if len(trimmed) <= maxFileBytes && len(trimmed) > 0 && trimmed[0] == '{' && json.Valid(trimmed) {
		return plainJSON(trimmed)
	}
	root, t := readYAML(src)
	if t != nil {
		return nil, t
	}
	return root.plain(), nil
}

func (n *node) plain() any {
	switch n.shape {
	case aText:
		return n.text
	case aNumber:
		return n.number
	case aFlag:
		return n.flag
	case aMapping:
		out := map[string]any{}
		for _, e := range n.entries {
			out[e.key] = e.value.plain()
		}
		return out
	case aList:
		out := []any{}
		for _, item := range n.items {
			out = append(out, item.plain())
		}
		return out
	}
	return nil
}

// plainJSON reads JSON by itself: its lines may be long, and it may be
// indented with tabs, both of which YAML would refuse.
func plainJSON(src []byte) (any, error) {
	d := json.NewDecoder(bytes.NewReader(src))
	v, err := jsonValue(d, 1)
	if err != nil {
		return nil, err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, errors.New("a second document begins after the first; give one")
	}
	return v, nil
}

// jsonValue reads by tokens, because only they show a key that stands twice.
func jsonValue(d *json.Decoder, depth int) (any, error) {
	if depth > maxDepth {
		return nil, fmt.Errorf("nested deeper than %d levels", maxDepth)
	}
	tk, err := d.Token()
	if err != nil {
		return nil, fmt.Errorf("this is not readable as JSON: %w", err)
	}
	switch tk {
	case json.Delim('{'):
		return jsonObject(d, depth)
	case json.Delim('['):
		out := []any{}
		for d.More() {
			v, err := jsonValue(d, depth+1)
			if err != nil {
				return nil, err
			}
			out = append(out, v)
		}
		_, err := d.Token()
		return out, err
	}
	if v, ok := tk.(float64); ok && (math.IsInf(v, 0) || math.IsNaN(v)) {
		return nil, errors.New("a number is too large to be read")
	}
	return tk, nil
}

func jsonObject(d *json.Decoder, depth int) (any, error) {
	out := map[string]any{}
	for d.More() {
		tk, err := d.Token()
		if err != nil {
			return nil, err
		}
		key, _ := tk.(string) // the decoder lets nothing else stand here
		if _, twice := out[key]; twice {
			return nil, fmt.Errorf("the key %q stands twice", key)
		}
		if out[key], err = jsonValue(d, depth+1); err != nil {
			return nil, err
		}
	}
	_, err := d.Token()
	return out, err
}
