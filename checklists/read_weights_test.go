package checklists

import (
	"reflect"
	"testing"

	"tendfold/domain/visit"

	"github.com/stretchr/testify/require"
)

// A weight that the file cannot say would be nought for ever.
func TestEveryWeightHasAKey(t *testing.T) {
	var w visit.Weights
	seen := map[string]bool{}
	for _, f := range weights(&w) {
		require.False(t, seen[f.key], f.key)
		seen[f.key] = true
		if f.count != nil {
			*f.count = 1
		} else {
			*f.points = 1
		}
	}
	v := reflect.ValueOf(w)
	require.Len(t, seen, v.NumField())
	for i := range v.NumField() {
		require.False(t, v.Field(i).IsZero(), v.Type().Field(i).Name)
	}
	for _, enterprise := range embedded(t).Enterprises() {
		require.NoError(t, pack(t, enterprise).Weights.Check())
	}
}
