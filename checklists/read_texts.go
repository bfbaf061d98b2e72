package checklists

import (
	"io/fs"
	"path"
	"strings"

	"tendfold/domain/text"
)

// textsFile may be left out: then a text message about the enterprise is a
// plain report, which a person reads.
const textsFile = "texts.yaml"

// mostSays bounds a phrase; a text message has 160 letters.
const mostSays = 60

// readTexts reads what people write in text messages.
func readTexts(b *book, fsys fs.FS, dir string) []text.Keyword {
	full := path.Join(dir, textsFile)
	if _, err := fs.Stat(fsys, full); err != nil {
		return nil
	}
	var out []text.Keyword
	taken := map[string]bool{}
	for _, each := range open(b, fsys, full, textsFile).object("words").need("words").some() {
		out = append(out, readKeyword(each, taken))
	}
	return out
}

func readKeyword(c cursor, taken map[string]bool) text.Keyword {
	o := c.object("sign", "count", "en", "fr", "from", "from_sign")
	k := text.Keyword{Sign: o.may("sign").ref(aSign)}
	if count := o.may("count"); !count.absent() {
		k.Count = count.line()
		b := count.book
		b.refer(aField, k.Count, count)
	}
	if many := o.may("from"); !many.absent() {
		k.From, k.FromSign = many.whole(2, 1e6), o.need("from_sign").ref(aSign)
	}
	if k.Sign == "" && k.Count == "" && !c.absent() {
		c.wrong("has neither a sign nor a count")
	}
	if k.From > 0 && k.Count == "" {
		c.wrong("has from, but nothing that is counted")
	}
	for _, language := range []string{"en", "fr"} {
		said := o.need(language)
		for _, s := range said.lines() {
			folded := strings.Join(text.Words(s), " ")
			switch {
			case folded == "" || len(s) > mostSays:
				said.wrong("%q is not a phrase of words, at most %d letters long", s, mostSays)
			case taken[folded] && !sameIn(k.Says, folded):
				said.wrong("%q stands here twice", s)
			default:
				taken[folded] = true
				k.Says = append(k.Says, s)
			}
		}
	}
	return k
}

// sameIn says whether a phrase is among those of the keyword itself: some are
// the same in both languages.
func sameIn(says []string, folded string) bool {
	for _, s := range says {
		if strings.Join(text.Words(s), " ") == folded {
			return true
		}
	}
	return false
}
