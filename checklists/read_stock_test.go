package checklists

import (
	"maps"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"
)

// duckWith is the pack of the tests with a stock.yaml.
func duckWith(t *testing.T, src string) []Problem {
	t.Helper()
	files := fstest.MapFS{}
	maps.Copy(files, duck(t))
	files[stockFile] = &fstest.MapFile{Data: []byte(src)}
	return Check(files)
}

func TestStockIsRefusedWhereItCannotBe(t *testing.T) {
	src, err := os.ReadFile("catfish/stock.yaml")
	require.NoError(t, err)
	good := strings.NewReplacer("source: ibadan, grade: D", "grade: from-memory", "    source: fs-blog\n    grade: B", "    grade: from-memory").Replace(string(src))
	require.Empty(t, lines(duckWith(t, good)))
	for _, c := range []struct{ from, to, says string }{
		{"survival_days: 185", "survival_days: 0", "1 to 3650"},
		{"{grams: 45, share: 0.038}", "{grams: 4, share: 0.038}", "weights must rise"},
		{"grade: constructed, note: \"1.1", "note: \"1.1", "grade"},
		{"grams: [500, 800, 1000]", "grams: [800, 500]", "weights must rise"},
		{"growing:", "swimming:", "swimming"},
		{"{low: 1.0, typical: 1.2", "{low: 1.3, typical: 1.2", "rising order"},
	} {
		require.Contains(t, good, c.from)
		problems := duckWith(t, strings.Replace(good, c.from, c.to, 1))
		require.NotEmpty(t, problems, c.to)
		require.Contains(t, strings.Join(lines(problems), "\n"), c.says, c.to)
		require.Contains(t, problems[0].File, stockFile)
	}
}
