package checklists

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"
)

// duck is the third, invented pack as files that a test may bend.
func duck(t testing.TB) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	files := os.DirFS("testdata/duck")
	require.NoError(t, fs.WalkDir(files, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		src, err := fs.ReadFile(files, name)
		out[name] = &fstest.MapFile{Data: src}
		return err
	}))
	return out
}

// bent is the duck pack with one text of one file replaced.
func bent(t testing.TB, file, sound, broken string) fstest.MapFS {
	t.Helper()
	files := duck(t)
	src := string(files[file].Data)
	require.Contains(t, src, sound)
	files[file].Data = []byte(strings.Replace(src, sound, broken, 1))
	return files
}

func lines(problems []Problem) []string {
	var out []string
	for _, p := range problems {
		out = append(out, p.String())
	}
	return out
}

func TestANewEnterpriseNeedsNoCode(t *testing.T) {
	require.Empty(t, lines(Check(os.DirFS("testdata/duck"))), "a single pack")
	require.Empty(t, lines(Check(os.DirFS("testdata"))), "a folder of packs")

	set := fresh(t)
	require.NoError(t, set.Add(os.DirFS("testdata")))
	require.Equal(t, []string{"catfish", "duck", "snail"}, set.Enterprises())
	p, ok := set.Pack("duck")
	require.True(t, ok)
	n, err := set.Network("duck", p.Purposes[0], p.Season)
	require.NoError(t, err)
	require.Len(t, n.Milestones(), 3)
}

// Every row bends one line of a sound pack; the answer must name that line.
func TestBrokenPacksAreRefusedWithFileLineColumnAndReason(t *testing.T) {
	for _, c := range []struct {
		name, file, sound, broken string
		want                      string
	}{
		{
			"unknown key", "pack.yaml", "purposes: [grow-out]", "purposes: [grow-out]\ncolour: green",
			`pack.yaml:7:1: colour: is not a key that is read here (read are format, enterprise, version, name, purposes, species)`,
		},
		{
			"key twice", "pack.yaml", "enterprise: duck", "enterprise: duck\nenterprise: goose",
			`pack.yaml:4:1: mapping key "enterprise" already defined at [3:1]`,
		},
		{
			"key missing", "pack.yaml", "enterprise: duck\n", "",
			`pack.yaml:2:1: pack.yaml: "enterprise" is missing`,
		},
		{
			"unsupported format", "pack.yaml", "format: 1", "format: 2",
			`pack.yaml:2:9: format: this program reads format 1; bring the pack to it or use a matching program`,
		},
		{
			"version without quotes", "pack.yaml", `"0.1"`, "0.1",
			`pack.yaml:4:10: version: is a number; put it in quotes`,
		},
		{
			"French missing", "pack.yaml", "name: {en: Ducks, fr: Canards}", "name: {en: Ducks}",
			`pack.yaml:5:8: name: "fr" is missing`,
		},
		{
			"English empty", "checklists.yaml", "text: {en: The brooder is warm.,", `text: {en: "",`,
			`checklists.yaml:7:20: en: is empty`,
		},
		{
			"capital in a key", "pack.yaml", "key: muscovy", "key: Muscovy",
			`pack.yaml:8:10: key: "Muscovy" is not a key: lower-case letters, digits and single hyphens, at most 60`,
		},
		{
			"text for a number", "pack.yaml", "high: 60, grade", "high: sixty, grade",
			`pack.yaml:16:45: high: is a text; it must be a number`,
		},
		{
			"decimal comma", "programme.yaml", "cv: 0.03", "cv: 0,03",
			`programme.yaml:45:11: cv: is a text; it must be a number`,
		},
		{
			"not a number", "programme.yaml", "cv: 0.03", "cv: .nan",
			`programme.yaml:45:11: .nan is not a number that can be read`,
		},
		{
			"infinite", "programme.yaml", "max: 110", "max: .inf",
			`programme.yaml:34:38: .inf is not a number that can be read`,
		},
		{
			"absurd size", "programme.yaml", "max: 110", "max: 99999",
			`programme.yaml:34:38: max: 99999 is out of range; it must lie between 0 and 3650`,
		},
		{
			"negative", "programme.yaml", "behind: 10", "behind: -1",
			`programme.yaml:7:18: behind: -1 is out of range; it must lie between 1 and 3650`,
		},
		{
			"not whole", "training.yaml", "months: 6", "months: 6.5",
			`training.yaml:5:13: months: 6.5 is not a whole number`,
		},
		{
			"span out of order", "pack.yaml", "typical: 45", "typical: 70",
			`pack.yaml:16:17: stocked_g: low 40, typical 70 and high 60 are not in rising order`,
		},
		{
			"unknown grade", "pack.yaml", "grade: B", "grade: Z",
			`pack.yaml:15:52: grade: "Z" is not one of T, A, B, D, common-practice, constructed, from-memory`,
		},
		{
			"grade better than its source", "pack.yaml", "grade: B", "grade: T",
			`pack.yaml:15:52: grade: grade T is better than B, the grade of its source "leaflet"`,
		},
		{
			"published without source", "pack.yaml", "source: leaflet, grade: B", "grade: B",
			`pack.yaml:15:35: grade: a figure of grade B must name its source`,
		},
		{
			"unknown source", "pack.yaml", "source: leaflet", "source: booklet",
			`pack.yaml:15:36: source: there is no source "booklet" in this pack (it has leaflet)`,
		},
		{
			"unknown milestone", "programme.yaml", "after: [ducklings-in]", "after: [ducklings-out]",
			`programme.yaml:33:13: after 1: there is no milestone "ducklings-out" in this pack (it has brooder-ready, ducklings-in, first-sale)`,
		},
		{
			"unknown start", "programme.yaml", "start: brooder-ready", "start: brooder",
			`programme.yaml:1:8: start: there is no milestone "brooder" in this pack (it has brooder-ready, ducklings-in, first-sale)`,
		},
		{
			"unknown item", "checklists.yaml", "items: [brooder-warm]", "items: [brooder-hot]",
			`checklists.yaml:19:13: items 1: there is no checklist item "brooder-hot" in this pack (it has brooder-warm)`,
		},
		{
			"unknown module", "checklists.yaml", "modules: [warmth]", "modules: [swimming]",
			`checklists.yaml:20:15: modules 1: there is no module "swimming" in this pack (it has warmth)`,
		},
		{
			"unknown caution", "triage.yaml", "caution: people-first", "caution: ducks-first",
			`triage.yaml:10:14: caution: there is no caution "ducks-first" in this pack (it has people-first)`,
		},
		{
			"unknown go-ahead", "programme.yaml", "go_ahead: ready", "go_ahead: steady",
			`programme.yaml:28:15: go_ahead: there is no go-ahead "steady" in this pack (it has ready)`,
		},
		{
			"unknown role", "checklists.yaml", "by: [field-officer]", "by: [farmer]",
			`checklists.yaml:10:14: by 1: "farmer" is not one of administrator, manager, advisor, field-officer, caretaker, owner`,
		},
		{
			"unknown rule", "rules.yaml", "mutes: [milestone-behind, growth-short]", "mutes: [growth-long]",
			`rules.yaml:7:66: mutes 1: "growth-long" is not one of milestone-behind, cover-short, growth-short, harvest-slip, season-risk, no-news, go-ahead-short, go-ahead-skipped, training-gap, new-caretaker, nobody-trained, visit-overdue, snag-due, ticket-stale`,
		},
		{
			"rule left out", "rules.yaml", "  snag-due: {days: 30, rest: 14, impact: low, time_to_loss: week, grade: common-practice}\n", "",
			`rules.yaml:2:3: rules: "snag-due" is missing`,
		},
		{
			"probability above one", "rules.yaml", "enter: 0.8", "enter: 80",
			`rules.yaml:3:24: enter: 80 is out of range; it must lie between 0 and 1`,
		},
		{
			"left above where it is entered", "rules.yaml", "leave: 0.5", "leave: 0.9",
			`rules.yaml:3:36: leave: 0.9 is above enter 0.8; a finding must be left no later than it was entered`,
		},
		{
			"weight left out", "rules.yaml", "slipping: 8, ", "",
			`rules.yaml:17:3: visit_weights: "slipping" is missing`,
		},
		{
			"weight below zero", "rules.yaml", "slipping: 8, ", "slipping: -8, ",
			`rules.yaml:17:25: slipping: -8 is out of range; it must lie between 0 and 1000`,
		},
		{
			"weights that contradict", "rules.yaml", "slipping: 8, ", "slipping: 80, ",
			`rules.yaml:17:3: visit_weights: The worse case of a cause weighs at least as much: behind as slipping, an open window as one ahead, a broken promise as one ahead.`,
		},
		{
			"unknown measure", "checklists.yaml", "in: celsius", "in: fahrenheit",
			`checklists.yaml:11:23: in: "fahrenheit" is not one of animals, celsius, cm, days, g, kg, kg/m2, kg/m3, l, l/min, m, m2, ma, mg/l, min, mm, ms, percent, ph`,
		},
		{
			"range crossed", "checklists.yaml", "low: 28", "low: 40",
			`checklists.yaml:11:19: measure: low 40 is above high 32`,
		},
		{
			"impossible range", "checklists.yaml", "high: 32", "high: 320",
			`checklists.yaml:11:47: high: 320 is out of range; it must lie between -20 and 70`,
		},
		{
			"word for what needs a person", "checklists.yaml", "suffices: staff-saw", "suffices: word",
			`checklists.yaml:9:19: suffices: an item that needs a person of the firm there cannot rest on the caretaker's word`,
		},
		{
			"go-ahead at another milestone", "checklists.yaml", "milestone: ducklings-in", "milestone: first-sale",
			`checklists.yaml:15:5: go_aheads 1: go-ahead "ready" names milestone "first-sale", but programme.yaml gives it to "ducklings-in"`,
		},
		{
			"one word for two things", "words.yaml", "also: [planks]", "also: [planks]\n  - key: wood\n    name: {en: Wood, fr: Bois}",
			`words.yaml:5:5: wall_base 2: "Bois" already stands for "timber" in wall_base`,
		},
		{
			"milestone twice", "programme.yaml", "- key: first-sale", "- key: ducklings-in",
			`programme.yaml:30:10: key: there are two milestones named "ducklings-in"; give one of them another key`,
		},
		{
			"durations out of order", "programme.yaml", "{min: 70, likely: 84,", "{min: 90, likely: 84,",
			`programme.yaml:34:12: days: min (90) is more than likely (84)`,
		},
		{
			"circle", "programme.yaml", "    after: [brooder-ready]", "    after: [brooder-ready, first-sale]",
			`programme.yaml:24:12: after: these wait for each other: ducklings-in -> first-sale -> ducklings-in`,
		},
		{
			"unreachable", "programme.yaml", "    after: [ducklings-in]\n", "",
			`programme.yaml:30:10: key: nothing leads here from brooder-ready: say what it waits for`,
		},
		{
			"curve of work", "programme.yaml", "kind: living", "kind: work",
			`programme.yaml:40:7: curve: only a living milestone can be read: people's work has no curve`,
		},
		{
			"curve that falls", "programme.yaml", "[1, 1]]", "[0.7, 0.3], [1, 1]]",
			`programme.yaml:40:7: curve: the points of a curve go from (0, 0) to (1, 1) and never back`,
		},
		{
			"curve that does not begin", "programme.yaml", "[[0, 0],", "[[0.1, 0],",
			`programme.yaml:40:7: curve: the points of a curve go from (0, 0) to (1, 1) and never back`,
		},
		{
			"point of three", "programme.yaml", "[0.5, 0.4]", "[0.5, 0.4, 0.1]",
			`programme.yaml:43:23: shape 2: a point is [time, share], each from 0 to 1`,
		},
		{
			"month that is none", "programme.yaml", "[7, 8]", "[7, 13]",
			`programme.yaml:11:30: ducklings-in 2: 13 is out of range; it must lie between 1 and 12`,
		},
		{
			"all twelve months", "programme.yaml", "[7, 8]", "[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]",
			`programme.yaml:11:12: ducklings-in: all twelve months are blocked; the milestone could never come`,
		},
		{
			"rate of eleven months", "programme.yaml", "not_in: {ducklings-in: [7, 8]}", "rate: [1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1]",
			`programme.yaml:11:9: rate: has 11 entries; a rate is twelve numbers, January first`,
		},
		{
			"purpose that the programme lacks", "programme.yaml", "    go_ahead: ready\n", "    go_ahead: ready\n    purposes: [breeding]\n",
			`programme.yaml:1:1: programme.yaml: purpose "grow-out" is named in pack.yaml, but the start, the stocking or the harvest is not part of it`,
		},
		{
			"anchor", "pack.yaml", "name: {en: Ducks, fr: Canards}", "name: &n {en: Ducks, fr: Canards}",
			`pack.yaml:5:7: anchors and aliases (& * <<) are not read here; write the values out`,
		},
		{
			"alias", "pack.yaml", "purposes: [grow-out]", "purposes: *n",
			`pack.yaml:6:11: anchors and aliases (& * <<) are not read here; write the values out`,
		},
		{
			"tag", "pack.yaml", "format: 1", "format: !!int 1",
			`pack.yaml:2:9: tags (!) are not read here; remove it`,
		},
		{
			"second document", "words.yaml", "cover: []", "---\ncover: []",
			`words.yaml:6:1: a second document begins here; a file holds one`,
		},
		{
			"tab", "words.yaml", "    also", "\talso",
			`words.yaml:4:1: character U+0009 has no place here; indent with spaces`,
		},
		{
			"Latin-1", "words.yaml", "Puits", "Puits \xe9t\xe9",
			`words.yaml:8:32: the text is not UTF-8; save the file as UTF-8`,
		},
		{
			"open quote", "words.yaml", "fr: Puits", "fr: 'Puits",
			`words.yaml:8:26: could not find end character of single-quoted text`,
		},
		{
			"two lines in a text", "triage.yaml", "{en: People first., fr: Les personnes d'abord.}", "\n    en: |-\n      People\n      first.\n    fr: Les personnes d'abord.",
			`triage.yaml:3:9: en: has more than one line; use >- to fold it`,
		},
		{
			"list for a group", "triage.yaml", "likely: {en: They are cold., fr: Ils ont froid.}", "likely: [cold]",
			`triage.yaml:8:13: likely: is a list; it must be a group of keys`,
		},
		{
			"nothing for a text", "triage.yaml", "fr: Les canetons se serrent", "fr:",
			`triage.yaml:5:37: fr: is nothing; it must be a text`,
		},
		{
			"go-ahead that no milestone has", "programme.yaml", "    go_ahead: ready\n", "",
			`checklists.yaml:15:5: go_aheads 1: no milestone in programme.yaml has go_ahead: ready`,
		},
		{
			"source without a publisher", "sources.yaml", "leaflet: {citation: An invented leaflet on ducks, grade: B}", "leaflet: {citation: An invented leaflet on ducks, grade: from-memory}",
			`sources.yaml:1:58: grade: a source is T, A or B; what has no source needs none here`,
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := lines(Check(bent(t, c.file, c.sound, c.broken)))
			require.Contains(t, got, c.want, strings.Join(got, "\n"))
		})
	}
}

func TestSizesAreBounded(t *testing.T) {
	for name, c := range map[string]struct{ src, want string }{
		"large file":   {"# " + strings.Repeat("x\n# ", maxFileBytes), "the file is larger than 128 kB"},
		"long line":    {"a: " + strings.Repeat("x", maxLineBytes), "the line is longer than 2000 bytes"},
		"brackets":     {"a: " + strings.Repeat("[", 900), "nested deeper than 12 levels"},
		"many lines":   {"a:\n" + strings.Repeat("[\n", 50_000), "nested deeper than 12 levels"},
		"dashes":       {strings.Repeat("- ", 900) + "x", "nested deeper than 12 levels"},
		"indented":     {staircase(40), "nested deeper than 12 levels"},
		"many keys":    {manyKeys(), "more than 5000 keys in one file"},
		"long text":    {"wall_base: []\ncover: []\nwater:\n  - key: well\n    name: {en: " + strings.Repeat("w", 1500) + ", fr: Puits}\n", "is longer than 1000 characters"},
		"long list":    {"wall_base: []\nwater: []\ncover:\n" + strings.Repeat("  - x\n", 501), "has 501 entries; more than 500 are not read"},
		"empty":        {"", "the file is empty"},
		"only remarks": {"# nothing\n", "the file is empty"},
	} {
		t.Run(name, func(t *testing.T) {
			files := duck(t)
			files[wordsFile].Data = []byte(c.src)
			problems := Check(files)
			require.NotEmpty(t, problems)
			require.Equal(t, wordsFile, problems[0].File)
			require.Contains(t, problems[0].Reason, c.want)
		})
	}
}

// manyKeys is the costliest file for the parser: one group, every key new.
func manyKeys() string {
	var b strings.Builder
	for i := 0; b.Len() < maxFileBytes-16; i++ {
		fmt.Fprintf(&b, "a%d: 1\n", i)
	}
	return b.String()
}

func staircase(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat(" ", i) + "a:\n")
	}
	return b.String()
}

// The README shows lines of the duck pack and the refusal of a bent one.
func TestTheReadmeIsTrue(t *testing.T) {
	readme, err := os.ReadFile("README.md")
	require.NoError(t, err)
	var all strings.Builder
	for _, f := range duck(t) {
		all.Write(f.Data)
	}
	blocks := strings.Split(string(readme), "```")
	require.Len(t, blocks, 5)
	for _, i := range []int{1, 3} {
		require.Contains(t, all.String(), strings.TrimPrefix(blocks[i], "yaml\n"))
	}
	got := lines(Check(bent(t, programmeFile, "after: [brooder-ready]", "after: [brooder-reddy]")))
	require.Len(t, got, 1)
	require.Contains(t, string(readme), "    "+got[0]+"\n")
	for _, name := range packFiles {
		require.Contains(t, string(readme), "### "+name)
	}
	for _, m := range Measures() {
		require.Regexp(t, `[\s:]`+string(m)+`[,.]`, string(readme))
	}
}

func TestAFolderIsReadAsAWhole(t *testing.T) {
	t.Run("a file is missing", func(t *testing.T) {
		files := duck(t)
		delete(files, trainingFile)
		require.Contains(t, lines(Check(files)), "training.yaml:1:1: the file is missing; every pack has "+strings.Join(packFiles, ", "))
	})
	t.Run("a file is misspelt", func(t *testing.T) {
		files := duck(t)
		files["rule.yml"] = &fstest.MapFile{Data: []byte("a: 1")}
		require.Contains(t, lines(Check(files)), "rule.yml:1:1: this file is not part of a pack, which has "+strings.Join(packFiles, ", "))
	})
	t.Run("text for people is welcome", func(t *testing.T) {
		files := duck(t)
		files["README.md"] = &fstest.MapFile{Data: []byte("About ducks.")}
		require.Empty(t, Check(files))
	})
	t.Run("written on Windows", func(t *testing.T) {
		files := duck(t)
		for _, f := range files {
			f.Data = append([]byte("\ufeff"), bytes.ReplaceAll(f.Data, []byte("\n"), []byte("\r\n"))...)
		}
		require.Empty(t, lines(Check(files)))
	})
	t.Run("an unreadable file is told alone", func(t *testing.T) {
		files := bent(t, "programme.yaml", "start: brooder-ready", "start: [")
		problems := Check(files)
		require.Len(t, problems, 1, "names that it would have held are not missed elsewhere")
		require.Equal(t, programmeFile, problems[0].File)
	})
	t.Run("no pack at all", func(t *testing.T) {
		require.Equal(t, []string{".:1:1: there is no pack here: neither pack.yaml nor a folder"}, lines(Check(fstest.MapFS{})))
	})
	t.Run("two packs of one enterprise", func(t *testing.T) {
		two := fstest.MapFS{}
		for name, f := range duck(t) {
			two["a/"+name], two["b/"+name] = f, f
		}
		require.Equal(t, []string{"b/pack.yaml:1:1: enterprise duck is also the one of a"}, lines(Check(two)))
	})
	t.Run("every problem is told, in reading order", func(t *testing.T) {
		files := bent(t, "training.yaml", "months: 6", "months: 0")
		files["pack.yaml"] = bent(t, "pack.yaml", "format: 1", "format: 9")["pack.yaml"]
		require.Equal(t, []string{
			"pack.yaml:2:9: format: this program reads format 1; bring the pack to it or use a matching program",
			"training.yaml:5:13: months: 0 is out of range; it must lie between 1 and 120",
		}, lines(Check(files)))
	})
	t.Run("a folder that cannot be read", func(t *testing.T) {
		require.Equal(t, ".", Check(deaf{})[0].File)
	})
}

// deaf is a file system on a broken disk.
type deaf struct{}

func (deaf) Open(name string) (fs.File, error) {
	return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrPermission}
}
