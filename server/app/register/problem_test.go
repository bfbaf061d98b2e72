package register

import (
	"go/ast"
	"go/parser"
	"go/token"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// Every code has a sentence in both languages that needs the same values.
func TestEveryCodeIsSaidInBothLanguages(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), "words.go", nil, 0)
	require.NoError(t, err)
	seen := 0
	ast.Inspect(file, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok || len(spec.Values) != 1 {
			return true
		}
		lit, ok := spec.Values[0].(*ast.BasicLit)
		if !ok || lit.Kind != token.STRING {
			return true
		}
		code, err := strconv.Unquote(lit.Value)
		require.NoError(t, err)
		text, known := said[Code(code)]
		require.True(t, known, code)
		require.NotEmpty(t, text.EN, code)
		require.NotEmpty(t, text.FR, code)
		require.NotEqual(t, text.EN, text.FR, code)
		require.Equal(t, holes(text.EN), holes(text.FR), code)
		seen++
		return true
	})
	require.Len(t, said, seen)
}

func holes(s string) map[string]bool {
	out := map[string]bool{}
	for _, h := range regexp.MustCompile(`\{[a-z_]+\}`).FindAllString(s, -1) {
		out[h] = true
	}
	return out
}

func TestText(t *testing.T) {
	p := Problem{Row: 7, Column: ColEnterprise, Code: EnterpriseUnknown, Values: Values{"value": "llama", "known": "Snails", "known_fr": "Escargots"}}
	require.Equal(t, `No pack is called "llama". Known here: Snails.`, p.Text("en"))
	require.Equal(t, `Aucun référentiel ne s'appelle « llama ». Connus ici : Escargots.`, p.Text("fr"))
}

func TestProblemsInOrder(t *testing.T) {
	problems := []Problem{{Row: 3, Severity: Flag}, {Row: 2, Severity: Flag, Code: "a"}, {Row: 2, Severity: Refused}, {Row: 2, Severity: Flag, Code: "b"}}
	inOrder(problems)
	require.Equal(t, []Problem{{Row: 2, Severity: Refused}, {Row: 2, Severity: Flag, Code: "a"}, {Row: 2, Severity: Flag, Code: "b"}, {Row: 3, Severity: Flag}}, problems)
}
