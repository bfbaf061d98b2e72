package checklists

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// Bounds of one file of a pack. The shipped packs stay far below them; they
// keep a hostile or broken file from costing memory or time.
const (
	maxFileBytes = 128 << 10
	maxLineBytes = 2000
	maxDepth     = 12
	maxKeys      = 5000 // the parser compares every key of a group with all others
)

// place is where something stands in a file, counted from 1.
type place struct{ line, column int }

// node is one YAML value, reduced to what a pack may hold: a mapping, a list,
// or a scalar that is a text, a number, yes or no, or nothing.
type node struct {
	at      place
	shape   shape
	text    string
	number  float64
	flag    bool
	entries []entry
	items   []*node
}

type entry struct {
	key   string
	at    place
	value *node
}

type shape int

const (
	nothing shape = iota
	aText
	aNumber
	aFlag
	aMapping
	aList
)

// words names the shapes as a writer of packs would.
func (s shape) words() string {
	return [...]string{"nothing", "a text", "a number", "true or false", "a group of keys", "a list"}[s]
}

// trouble is why a file could not be read, and where.
type trouble struct {
	at     place
	reason string
}

func (t *trouble) Error() string {
	return fmt.Sprintf("%d:%d: %s", t.at.line, t.at.column, t.reason)
}

func refuse(at place, format string, args ...any) *trouble {
	return &trouble{at, fmt.Sprintf(format, args...)}
}

// readYAML turns one file into a node, or says why not.
func readYAML(src []byte) (*node, *trouble) {
	src = bytes.TrimPrefix(src, []byte("\ufeff")) // some editors put it there
	if t := checkBytes(src); t != nil {
		return nil, t
	}
	file, t := parseYAML(src)
	if t != nil {
		return nil, t
	}
	bodies := make([]*ast.DocumentNode, 0, 1)
	for _, doc := range file.Docs {
		if doc.Body != nil {
			bodies = append(bodies, doc)
		}
	}
	switch len(bodies) {
	case 0:
		return nil, refuse(place{1, 1}, "the file is empty")
	case 1:
		return graft(bodies[0].Body, 1)
	}
	return nil, refuse(placeOf(bodies[1].Body), "a second document begins here; a file holds one")
}

// checkBytes refuses what is no plain text before a parser sees it.
func checkBytes(src []byte) *trouble {
	if len(src) > maxFileBytes {
		return refuse(place{1, 1}, "the file is larger than %d kB; split it over several files or shorten it", maxFileBytes>>10)
	}
	line := 0
	for row := range bytes.Lines(src) {
		line++
		if len(row) > maxLineBytes {
			return refuse(place{line, maxLineBytes}, "the line is longer than %d bytes; break it", maxLineBytes)
		}
		if !utf8.Valid(row) {
			return refuse(place{line, firstBad(row)}, "the text is not UTF-8; save the file as UTF-8")
		}
		for column, r := range string(row) {
			if unicode.IsControl(r) && !strings.ContainsRune("\n\r", r) || r == '\ufeff' {
				return refuse(place{line, column + 1}, "character %U has no place here; indent with spaces", r)
			}
		}
	}
	return nil
}

func firstBad(row []byte) int {
	column := 1
	for len(row) > 0 {
		r, size := utf8.DecodeRune(row)
		if r == utf8.RuneError && size <= 1 {
			break
		}
		row, column = row[size:], column+1
	}
	return column
}

// checkTokens bounds brackets and keys before parsing, because the parser calls
// itself once for each; indented nesting is bounded by the length of a line.
func checkTokens(tokens token.Tokens) *trouble {
	depth, keys := 0, 0
	for _, tk := range tokens {
		switch tk.Type {
		case token.MappingValueType:
			keys++
		case token.SequenceStartType, token.MappingStartType:
			depth++
		case token.SequenceEndType, token.MappingEndType:
			depth--
		case token.AnchorType, token.AliasType, token.MergeKeyType:
			return refuse(tokenPlace(tk), "anchors and aliases (& * <<) are not read here; write the values out")
		case token.TagType:
			return refuse(tokenPlace(tk), "tags (!) are not read here; remove it")
		default: // a value, a key or punctuation
		}
		if depth > maxDepth {
			return refuse(tokenPlace(tk), "nested deeper than %d levels", maxDepth)
		}
		if keys > maxKeys {
			return refuse(tokenPlace(tk), "more than %d keys in one file", maxKeys)
		}
	}
	return nil
}

// parseYAML is the library's lexer and parser. They are given bounded input
// only, and a panic in them becomes a refusal: a broken pack must not end a
// server.
func parseYAML(src []byte) (file *ast.File, t *trouble) {
	defer func() {
		if recover() != nil {
			file, t = nil, refuse(place{1, 1}, "this is not readable as YAML")
		}
	}()
	tokens := lexer.Tokenize(string(src))
	if t := checkTokens(tokens); t != nil {
		return nil, t
	}
	file, err := parser.Parse(tokens, 0)
	if err == nil {
		return file, nil
	}
	if known, ok := errors.AsType[yaml.Error](err); ok {
		return nil, refuse(tokenPlace(known.GetToken()), "%s", firstLine(known.GetMessage()))
	}
	return nil, refuse(place{1, 1}, "%s", firstLine(err.Error()))
}

func firstLine(s string) string {
	line, _, _ := strings.Cut(s, "\n")
	return line
}

func tokenPlace(tk *token.Token) place {
	if tk == nil || tk.Position == nil {
		return place{1, 1}
	}
	return place{max(1, tk.Position.Line), max(1, tk.Position.Column)}
}

// placeOf is where a value begins; a mapping begins at its first key.
func placeOf(n ast.Node) place {
	switch n := n.(type) {
	case *ast.MappingNode:
		if len(n.Values) > 0 {
			return tokenPlace(n.Values[0].Key.GetToken())
		}
		return tokenPlace(n.Start)
	case *ast.MappingValueNode:
		return tokenPlace(n.Key.GetToken())
	case *ast.LiteralNode:
		return tokenPlace(n.Start)
	}
	return tokenPlace(n.GetToken())
}

// graft reduces the library's tree to ours.
func graft(n ast.Node, depth int) (*node, *trouble) {
	at := placeOf(n)
	if depth > maxDepth {
		return nil, refuse(at, "nested deeper than %d levels", maxDepth)
	}
	switch n := n.(type) {
	case ast.MapNode:
		return graftMapping(n, at, depth)
	case *ast.SequenceNode:
		return graftList(n, at, depth)
	case *ast.StringNode:
		return &node{at: at, shape: aText, text: n.Value}, nil
	case *ast.LiteralNode:
		return &node{at: at, shape: aText, text: n.Value.Value}, nil
	case *ast.BoolNode:
		return &node{at: at, shape: aFlag, flag: n.Value}, nil
	case *ast.NullNode:
		return &node{at: at, shape: nothing}, nil
	case *ast.IntegerNode, *ast.FloatNode, *ast.InfinityNode, *ast.NanNode:
		return graftNumber(n.(ast.ScalarNode), at)
	}
	return nil, refuse(at, "%s is not read here", strings.ToLower(n.Type().String()))
}

func graftNumber(n ast.ScalarNode, at place) (*node, *trouble) {
	var v float64
	switch x := n.GetValue().(type) {
	case int64:
		v = float64(x)
	case uint64:
		v = float64(x)
	case float64:
		v = x
	}
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil, refuse(at, "%s is not a number that can be read", n.GetToken().Value)
	}
	return &node{at: at, shape: aNumber, number: v, text: n.GetToken().Value}, nil
}

func graftList(n *ast.SequenceNode, at place, depth int) (*node, *trouble) {
	out := &node{at: at, shape: aList}
	for _, item := range n.Values {
		child, t := graft(item, depth+1)
		if t != nil {
			return nil, t
		}
		out.items = append(out.items, child)
	}
	return out, nil
}

func graftMapping(n ast.MapNode, at place, depth int) (*node, *trouble) {
	out := &node{at: at, shape: aMapping}
	for each := n.MapRange(); each.Next(); {
		key, ok := each.Key().(*ast.StringNode)
		where := tokenPlace(each.Key().GetToken())
		if !ok {
			return nil, refuse(where, "a key must be a plain word")
		}
		value, t := graft(each.Value(), depth+1)
		if t != nil {
			return nil, t
		}
		out.entries = append(out.entries, entry{key.Value, where, value})
	}
	return out, nil
}
