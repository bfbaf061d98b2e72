package checklists

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"tendfold/domain/training"

	"github.com/stretchr/testify/require"
)

const warmth = "training/warmth.yaml"

func TestALessonIsRead(t *testing.T) {
	set := NewSet()
	require.NoError(t, set.Add(duck(t)))
	p, _ := set.Pack("duck")
	m, _ := p.Module("warmth")
	l := m.Lesson
	require.Len(t, l.Cards, 3)
	require.Equal(t, Card{
		Key: "lamp", Drawing: "lamp", Safety: true, Title: Text{"The lamp", "La lampe"},
		Text: Text{"Hang the lamp by its chain. Never by its wire.", "Accrochez la lampe par sa chaîne. Jamais par son fil."},
	}, l.Cards[0])
	require.Len(t, l.Questions, 11)
	require.Equal(t, training.Question{Key: "chain", Kind: training.One, Safety: true, Options: []string{"a", "b", "c"}, Right: "a"}, l.Questions[0].Question)
	require.Equal(t, training.Question{Key: "feed", Kind: training.Sum, Answer: 200, Tolerance: 1}, l.Questions[3].Question)
	require.Equal(t, training.Bank{Draw: 6, Questions: l.Bank().Questions}, l.Bank())
	require.True(t, l.HasTask("counted"))
	require.False(t, l.HasTask("swims"))
	require.Contains(t, p.Drawings["lamp"], "<svg")
}

func TestAModuleMayBeTaughtFromPaper(t *testing.T) {
	files := duck(t)
	delete(files, warmth)
	set := NewSet()
	require.NoError(t, set.Add(files))
	p, _ := set.Pack("duck")
	require.Nil(t, p.Modules[0].Lesson)
}

// Every row bends one line of a sound lesson; the answer must name that line.
func TestBrokenLessonsAreRefused(t *testing.T) {
	for _, c := range []struct{ name, sound, broken, want string }{
		{"of another module", "module: warmth", "module: cold", `:2:9: module: is "cold", but the file is that of "warmth"`},
		{"unknown key", "draw: 6", "draw: 6\ncolour: red", `:127:1: colour: is not a key that is read here (read are module, cards, questions, draw, tasks)`},
		{"no such drawing", "drawing: cold\n", "drawing: snow\n", `:10:14: drawing: there is no drawings/snow.svg in this pack`},
		{"a title too long", "en: Count them", "en: Count them all in the morning and again at night", `title: has 48 characters in one language; at most 40 fit`},
		{"no such card", "card: count", "card: counting", `card: there is no warmth card "counting" in this pack (it has count, huddle, lamp)`},
		{"no such source", "source: leaflet", "source: book", `source: there is no source "book" in this pack (it has leaflet)`},
		{"no kind of ours", "kind: sum", "kind: essay", `kind: "essay" is not one of one, order, picture, sum`},
		{"right is no option", "right: a", "right: z", `right: "z" is not one of the options`},
		{"an order with a right", "kind: order", "kind: order\n    right: a", `right: has no place in an order; the options are written in the right order`},
		{"a sum with options", "answer: 200", "answer: 200\n    options: []", `options: has no place in a sum, which has answer, tolerance and measure`},
		{"a choice with a number", "right: a", "right: a\n    answer: 3", `answer: is for a sum; this question has options`},
		{"a key twice", "key: which-cold", "key: chain", `key: there are two warmth questions named "chain"; give one of them another key`},
		{"an option twice", "{key: b, text: {en: Its wire", "{key: a, text: {en: Its wire", `options 2: "a" is named twice`},
		{"a picture without a drawing", "{key: a, drawing: cold,", "{key: a,", `options 1: "drawing" is missing`},
		{"too few options", "      - {key: c, text: {en: A nail, fr: Un clou}}\n", "", `options: has 2 entries; it must have 3 to 4`},
		{"more asked than there are", "draw: 6", "draw: 12", `draw: 12 is out of range; it must lie between 6 and 11`},
		{"fewer than six asked", "draw: 6", "draw: 5", `draw: 5 is out of range; it must lie between 6 and 11`},
		{"French missing", "why: {en: Ten times 20 is 200., fr: Dix fois 20 font 200.}", "why: {en: Ten times 20 is 200.}", `why: "fr" is missing`},
		{"no measure", "    measure: {en: g, fr: g}\n", "", `"measure" is missing`},
		{"no tasks", "tasks:\n", "tasks: []\nx:\n", `tasks: is empty; name at least one`},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := lines(Check(bent(t, warmth, c.sound, c.broken)))
			require.NotEmpty(t, got)
			require.True(t, slices.ContainsFunc(got, func(l string) bool {
				return strings.HasPrefix(l, warmth+":") && strings.Contains(l, c.want)
			}), strings.Join(got, "\n"))
		})
	}
}

func TestStrangersInTheFoldersAreRefused(t *testing.T) {
	for name, want := range map[string]string{
		"training/warmht.yaml": "there is no module of this name in training.yaml",
		"training/notes.md":    "there is no module of this name in training.yaml",
		"drawings/Lamp.svg":    "a drawing's name is a key with .svg",
		"drawings/lamp.png":    "a drawing's name is a key with .svg",
		"voices/de/x.ogg":      "recordings are kept by language, in en and fr",
		"voices/en/x.ogg":      "no safety card is called so; a recording is MODULE.CARD.ogg",
		// The card is there, but it is no safety card.
		"voices/en/warmth.count.ogg": "no safety card is called so; a recording is MODULE.CARD.ogg",
		"voices/en/warmth.lamp.ogg":  "this is not Ogg Opus",
	} {
		files := duck(t)
		files[name] = &fstest.MapFile{Data: []byte("x")}
		got := lines(Check(files))
		require.Len(t, got, 1, name)
		require.Contains(t, got[0], want)
	}
}

// opus begins as an Opus stream in Ogg does.
var opus = slices.Concat([]byte("OggS"), make([]byte, 22), []byte{1, 19}, []byte("OpusHead"), make([]byte, 40))

func TestARecordingIsRead(t *testing.T) {
	files := duck(t)
	files["voices/en/warmth.lamp.ogg"] = &fstest.MapFile{Data: opus}
	set := NewSet()
	require.NoError(t, set.Add(files))
	p, _ := set.Pack("duck")
	require.Equal(t, opus, p.Voices[VoiceKey{"en", "warmth", "lamp"}])
	files["voices/en/warmth.lamp.ogg"] = &fstest.MapFile{Data: append(slices.Clone(opus), make([]byte, maxVoiceBytes)...)}
	require.Contains(t, lines(Check(files))[0], "too large")
}

func TestDrawingsAreLinesAndSurfacesOnly(t *testing.T) {
	const head = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9">`
	for src, want := range map[string]string{
		``:        "1:1: there is no drawing in this file",
		`<svg>`:   "a drawing begins with",
		`<html/>`: "a drawing begins with",
		`<svg xmlns="http://www.w3.org/2000/svg"/>`:                "the drawing has no viewBox",
		head + `<script>alert(1)</script></svg>`:                   "<script> is not used in drawings here",
		head + `<foreignObject/></svg>`:                            "<foreignObject> is not used in drawings here",
		head + `<image href="x"/></svg>`:                           "<image> is not used in drawings here",
		head + `<use href="#a"/></svg>`:                            "<use> is not used in drawings here",
		head + `<style>a{}</style></svg>`:                          "<style> is not used in drawings here",
		head + `<animate/></svg>`:                                  "<animate> is not used in drawings here",
		head + "\n" + `<g onclick="x"/></svg>`:                     "2:1: the attribute onclick is not used in drawings here",
		head + `<g xlink:href="x"/></svg>`:                         "the attribute href is not used in drawings here",
		head + `<g fill="url(http://x)"/></svg>`:                   "fill reaches outside the drawing",
		head + `<g style="fill:URL( 'x')"/></svg>`:                 "style reaches outside the drawing",
		head + `<g style="@import x"/></svg>`:                      "style holds a style that is not used",
		head + `<g>`:                                               "not readable as SVG",
		`<!DOCTYPE svg [<!ENTITY a "b">]>` + head + `</svg>`:       "a drawing has no <! instructions",
		`<?xml-stylesheet href="x"?>` + head + `</svg>`:            "a drawing has no <?xml-stylesheet instruction",
		head + `</svg><svg xmlns="http://www.w3.org/1999/xhtml"/>`: "<svg> is not used in drawings here",
	} {
		got := checkSVG([]byte(src))
		require.NotNil(t, got, src)
		require.Contains(t, got.Error(), want, src)
	}
	for _, src := range []string{
		`<?xml version="1.0"?><!-- by us -->` + head + `<title>x</title><defs><linearGradient id="a"/></defs><g fill="url(#a)"/></svg>`,
	} {
		require.Nil(t, checkSVG([]byte(src)), src)
	}
}

// Whatever a drawing's bytes, checking them ends, and what passes has only
// elements that neither run nor fetch.
func FuzzDrawing(f *testing.F) {
	f.Add([]byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><g fill="url(#a)"/></svg>`))
	f.Add([]byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><script/></svg>`))
	f.Fuzz(func(t *testing.T, src []byte) {
		if trouble := checkSVG(src); trouble != nil {
			require.NotEmpty(t, trouble.reason)
			require.Positive(t, trouble.at.line)
			return
		}
		for d := xml.NewDecoder(bytes.NewReader(src)); ; {
			tk, err := d.Token()
			if errors.Is(err, io.EOF) {
				return
			}
			require.NoError(t, err)
			if e, ok := tk.(xml.StartElement); ok {
				require.Contains(t, svgElements, e.Name.Local)
			}
		}
	})
}

// Whatever a lesson's bytes, reading them ends in a lesson that can be asked
// and marked, or in problems that name a place.
func FuzzLesson(f *testing.F) {
	whole := duck(f)
	f.Add(whole[warmth].Data)
	for _, src := range odd {
		f.Add([]byte(src))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		set := checked(t, whole, warmth, src)
		if set == nil {
			return
		}
		p, _ := set.Pack("duck")
		l := p.Modules[0].Lesson
		require.Len(t, l.Bank().Ask(1), l.Draw)
		require.False(t, l.Bank().Mark(1, nil).Passed)
		for _, q := range l.Questions {
			_, ok := l.Card(q.Card)
			require.True(t, ok)
		}
	})
}
