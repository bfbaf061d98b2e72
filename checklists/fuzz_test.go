package checklists

import (
	"maps"
	"math"
	"os"
	"slices"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"
)

// odd are inputs that parsers of YAML stumble over.
var odd = []string{
	"", "a", "a: b: c", "- - -", "{", "[", "[[[[", "a: &x [*x]", "<<: 1", "? a\n: b", "!!binary x", "a: |\n  x", "a: >-\n",
	"---\n---\n", "%YAML 1.2\n---\na: 1", "a: .inf", "a: 1e400", "'", "\"\\u0000\"", "a: \"\\ud800\"", "\xff", "\ufeffa: 1", "a:\r\n  b: 1\r\n",
	"a: 0x1_0", "a: 99999999999999999999", "#", "a: #", "a:\n- b\n c: d", "{a: [b, {c: d}], e}", "a: !t", "*", "&", "|", ">", "@", "`",
}

// Whatever the bytes, reading them ends in values within bounds or in one
// trouble that names a place.
func FuzzYAML(f *testing.F) {
	for _, src := range odd {
		f.Add([]byte(src))
	}
	for _, name := range packFiles {
		src, err := os.ReadFile("testdata/duck/" + name)
		require.NoError(f, err)
		f.Add(src)
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		root, trouble := readYAML(src)
		if trouble != nil {
			require.Nil(t, root)
			require.NotEmpty(t, trouble.reason)
			require.Positive(t, trouble.at.line)
			require.Positive(t, trouble.at.column)
			return
		}
		bounded(t, root, 1)
	})
}

func bounded(t *testing.T, n *node, depth int) {
	require.LessOrEqual(t, depth, maxDepth)
	require.Positive(t, n.at.line)
	require.Positive(t, n.at.column)
	require.False(t, math.IsNaN(n.number) || math.IsInf(n.number, 0))
	for _, e := range n.entries {
		bounded(t, e.value, depth+1)
	}
	for _, item := range n.items {
		bounded(t, item, depth+1)
	}
}

// Whatever a file holds, reading it ends in a pack or in problems that name
// a file and a place; it never panics, and a pack that is taken compiles.
func FuzzPack(f *testing.F) {
	for i, name := range packFiles {
		src, err := os.ReadFile("testdata/duck/" + name)
		require.NoError(f, err)
		f.Add(i, src)
	}
	for _, src := range odd {
		f.Add(1, []byte(src))
	}
	names := append(slices.Clone(packFiles), stockFile)
	for _, enterprise := range []string{"snail", "catfish"} {
		src, err := os.ReadFile(enterprise + "/" + stockFile)
		require.NoError(f, err)
		f.Add(len(packFiles), src)
	}
	whole := duck(f)
	f.Fuzz(func(t *testing.T, which int, src []byte) {
		set := checked(t, whole, names[((which%len(names))+len(names))%len(names)], src)
		if set == nil {
			return
		}
		for _, enterprise := range set.Enterprises() {
			p, _ := set.Pack(enterprise)
			_, err := set.Network(enterprise, p.Purposes[0], p.Season)
			require.NoError(t, err)
		}
	})
}

// checked is the set of a pack in which one file says something else; nil when
// the pack is refused, and then every problem says where and why.
func checked(t *testing.T, whole fstest.MapFS, name string, src []byte) *Set {
	t.Helper()
	files := fstest.MapFS{}
	maps.Copy(files, whole)
	files[name] = &fstest.MapFile{Data: src}
	problems := Check(files)
	for _, p := range problems {
		require.NotEmpty(t, p.File)
		require.NotEmpty(t, p.Reason)
		require.Positive(t, p.Line)
		require.Positive(t, p.Column)
	}
	if len(problems) > 0 {
		return nil
	}
	set := NewSet()
	require.NoError(t, set.Add(files))
	return set
}
