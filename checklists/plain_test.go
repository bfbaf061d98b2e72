package checklists

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestPlainReadsYAMLAndJSON(t *testing.T) {
	want := map[string]any{"a": 1.5, "b": []any{"x", true, nil}, "c": map[string]any{"d": -2.0}}
	for _, src := range []string{
		"a: 1.5\nb: [x, true, null]\nc:\n  d: -2\n",
		`{"a": 1.5, "b": ["x", true, null], "c": {"d": -2}}`,
		"\ufeff{\n\t\"a\": 1.5e0,\n\t\"b\": [\"x\", true, null],\n\t\"c\": {\"d\": -2}\n}\n",
	} {
		got, err := Plain([]byte(src))
		require.NoError(t, err, src)
		require.Equal(t, want, got)
	}
	long, err := Plain([]byte(`{"a": [` + strings.Repeat("1, ", 2000) + `1]}`))
	require.NoError(t, err, "a line of JSON may be long")
	require.Len(t, long.(map[string]any)["a"], 2001)
}

func TestPlainRefuses(t *testing.T) {
	for src, says := range map[string]string{
		"":                           "empty",
		"a: 1\na: 2":                 "a",
		`{"a": 1, "a": 2}`:           "twice",
		"a: &x 1\nb: *x":             "anchors",
		"a: !!binary aGk=":           "tags",
		"a: .inf":                    "not a number",
		`{"a": 1e999}`:               "JSON",
		"a: [1, 2":                   "",
		"a: 1\n---\nb: 2":            "second document",
		"\xff":                       "UTF-8",
		strings.Repeat("[", 40):      "",
		strings.Repeat(`{"a":`, 40):  "deep",
		strings.Repeat("# x\n", 4e4): "larger than",
	} {
		if strings.HasPrefix(src, `{"a":{`) {
			src += "1" + strings.Repeat("}", 40)
		}
		_, err := Plain([]byte(src))
		require.ErrorContains(t, err, says, "%.40q", src)
		require.NotContains(t, err.Error(), "\n")
	}
}

// Whatever the bytes, they are values within bounds or refused on one line.
func FuzzPlain(f *testing.F) {
	for _, src := range odd {
		f.Add([]byte(src))
	}
	f.Add([]byte(`{"a": [1, {"b": "c"}], "d": -1e-3}`))
	f.Fuzz(func(t *testing.T, src []byte) {
		v, err := Plain(src)
		if err != nil {
			require.NotEmpty(t, err.Error())
			require.NotContains(t, err.Error(), "\n")
			return
		}
		finite(t, v)
		_, err = json.Marshal(v)
		require.NoError(t, err)
	})
}

func finite(t *testing.T, v any) {
	switch v := v.(type) {
	case float64:
		require.False(t, math.IsNaN(v) || math.IsInf(v, 0))
	case []any:
		for _, each := range v {
			finite(t, each)
		}
	case map[string]any:
		for _, each := range v {
			finite(t, each)
		}
	}
}
