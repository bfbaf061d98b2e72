package truth

import (
	"go/parser"
	"go/token"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The yardstick must know nothing of what it measures.
func TestTruthImportsNoRules(t *testing.T) {
	packages, err := parser.ParseDir(token.NewFileSet(), ".", nil, parser.ImportsOnly)
	require.NoError(t, err)
	require.NotEmpty(t, packages["truth"].Files)
	for name, file := range packages["truth"].Files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		for _, i := range file.Imports {
			path, err := strconv.Unquote(i.Path.Value)
			require.NoError(t, err)
			if strings.Contains(path, ".") || strings.HasPrefix(path, "tendfold/") {
				require.Equal(t, "tendfold/domain/calendar", path, "%s: the truth may share nothing but civil dates", name)
			}
		}
	}
}
