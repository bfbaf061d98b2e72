package reckon_test

import (
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"tendfold/server/reckon"

	"github.com/stretchr/testify/require"
)

var example = regexp.MustCompile("(?s)\n## ([a-z]+)\n.*?```yaml\n(.*?)```\n\ngives\n\n((?:    [^\n]*\n)+)")

// Every topic is documented with an example, and what it is said to give is
// what it gives, to the digits that stand there.
func TestDocumentedExamples(t *testing.T) {
	page, err := os.ReadFile("../../docs/reckon.md")
	require.NoError(t, err)
	var documented []reckon.Topic
	for _, m := range example.FindAllStringSubmatch(string(page), -1) {
		topic := reckon.Topic(m[1])
		documented = append(documented, topic)
		a := do(t, topic, m[2])
		for line := range strings.Lines(m[3]) {
			name, want, _ := strings.Cut(strings.TrimSpace(line), " ")
			require.Contains(t, a.Outputs, name, topic)
			if v, err := strconv.ParseFloat(want, 64); err == nil {
				_, decimals, _ := strings.Cut(want, ".")
				last, _ := strconv.ParseFloat("1e-"+strconv.Itoa(len(decimals)), 64)
				require.InDelta(t, v, number(t, a, name), 0.51*last, "%s of %s", name, topic)
				continue
			}
			require.Equal(t, want == "true", a.Outputs[name].Value, "%s of %s", name, topic)
		}
	}
	require.ElementsMatch(t, reckon.Topics(), documented)
}
