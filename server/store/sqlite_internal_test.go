package store

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestAtLeast(t *testing.T) {
	for version, ok := range map[string]bool{
		"3.51.3": true, "3.51.4": true, "3.52.0": true, "4.0.0": true, "3.54.1": true,
		"3.51.2": false, "3.50.9": false, "2.99.99": false, "3.51": false, "": false, "x.y.z": false,
	} {
		require.Equal(t, ok, atLeast(version, minSQLite), version)
	}
}
