package checklists

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
)

const (
	drawingFolder, drawingEnding = "drawings", ".svg"
	voiceFolder, voiceEnding     = "voices", ".ogg"
)

// Bounds of one drawing and one recording in bytes: what a phone fetches is
// paid for by its owner. 16 kbit/s make 2 kB a second.
const (
	maxDrawingBytes = 16 << 10
	maxVoiceBytes   = 120 << 10
)

// readDrawings reads the pack's own drawings by name.
func readDrawings(b *book, fsys fs.FS, dir string) map[string]string {
	out := map[string]string{}
	folder := path.Join(dir, drawingFolder)
	for _, file := range filesIn(b, fsys, folder) {
		full := path.Join(folder, file)
		name, ok := strings.CutSuffix(file, drawingEnding)
		if !ok || !keyForm.MatchString(name) {
			b.report(full, place{1, 1}, "a drawing's name is a key with %s", drawingEnding)
			continue
		}
		src, err := readMost(fsys, full, maxDrawingBytes)
		if err != nil {
			b.report(full, place{1, 1}, "%s", err)
			continue
		}
		if t := checkSVG(src); t != nil {
			b.report(full, t.at, "%s", t.reason)
			continue
		}
		out[name] = string(src)
	}
	return out
}

// readMost reads a file that has at most so many bytes.
func readMost(fsys fs.FS, name string, most int64) ([]byte, error) {
	f, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer func() { _ = f.Close() }() // nothing was written that could be lost
	src, err := io.ReadAll(io.LimitReader(f, most+1))
	if err == nil && int64(len(src)) > most {
		return nil, errors.New("the file is too large; make it smaller")
	}
	return src, err
}

// What a drawing may consist of. Whatever runs, fetches or embeds is not in
// the list (SVG 2, chapter 5 and 15; OWASP on SVG uploads).
var svgElements = []string{
	"svg", "g", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "title", "desc", "defs",
	"linearGradient", "radialGradient", "stop", "clipPath", "mask", "text", "tspan", "pattern", "symbol",
}

const svgSpace = "http://www.w3.org/2000/svg"

// checkSVG refuses a drawing that is more than lines and surfaces.
func checkSVG(src []byte) *trouble {
	d := xml.NewDecoder(bytes.NewReader(src))
	root := false
	for {
		line, column := d.InputPos()
		at := place{line, column}
		tk, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return refuse(at, "this is not readable as SVG: %s", firstLine(err.Error()))
		}
		switch tk := tk.(type) {
		case xml.StartElement:
			if t := checkElement(tk, at, !root); t != nil {
				return t
			}
			root = true
		case xml.Directive:
			return refuse(at, "a drawing has no <! instructions; remove it")
		case xml.ProcInst:
			if tk.Target != "xml" {
				return refuse(at, "a drawing has no <?%s instruction; remove it", tk.Target)
			}
		}
	}
	if !root {
		return refuse(place{1, 1}, "there is no drawing in this file")
	}
	return nil
}

func checkElement(e xml.StartElement, at place, root bool) *trouble {
	if root && (e.Name.Local != "svg" || e.Name.Space != svgSpace) {
		return refuse(at, "a drawing begins with <svg xmlns=%q", svgSpace)
	}
	if root && !slices.ContainsFunc(e.Attr, func(a xml.Attr) bool { return a.Name.Local == "viewBox" }) {
		return refuse(at, "the drawing has no viewBox, so it cannot be scaled")
	}
	if e.Name.Space != svgSpace || !slices.Contains(svgElements, e.Name.Local) {
		return refuse(at, "<%s> is not used in drawings here", e.Name.Local)
	}
	for _, a := range e.Attr {
		if t := checkAttribute(a, at); t != nil {
			return t
		}
	}
	return nil
}

func checkAttribute(a xml.Attr, at place) *trouble {
	name, value := strings.ToLower(a.Name.Local), strings.ToLower(a.Value)
	switch {
	case a.Name.Space == "xmlns" || name == "xmlns":
		return nil
	case strings.HasPrefix(name, "on"), name == "href", name == "src", name == "base":
		return refuse(at, "the attribute %s is not used in drawings here", a.Name.Local)
	}
	for rest := value; ; {
		_, after, found := strings.Cut(rest, "url(")
		if !found {
			break
		}
		if !strings.HasPrefix(strings.TrimLeft(after, ` "'`), "#") {
			return refuse(at, "%s reaches outside the drawing", a.Name.Local)
		}
		rest = after
	}
	if strings.Contains(value, "@import") || strings.Contains(value, "expression(") || strings.Contains(value, `\`) {
		return refuse(at, "%s holds a style that is not used in drawings here", a.Name.Local)
	}
	return nil
}

// readVoices reads the recordings of safety cards: voices/LANGUAGE/MODULE.CARD.ogg.
func readVoices(b *book, fsys fs.FS, dir string, p *Pack) map[VoiceKey][]byte {
	out := map[VoiceKey][]byte{}
	for _, language := range filesIn(b, fsys, path.Join(dir, voiceFolder)) {
		folder := path.Join(dir, voiceFolder, language)
		if language != "en" && language != "fr" {
			if path.Ext(language) != ".md" && path.Ext(language) != ".txt" { // text for people
				b.report(folder, place{1, 1}, "recordings are kept by language, in en and fr")
			}
			continue
		}
		for _, file := range filesIn(b, fsys, folder) {
			full := path.Join(folder, file)
			module, card, ok := voiceOf(file, p)
			if !ok {
				b.report(full, place{1, 1}, "no safety card is called so; a recording is MODULE.CARD%s", voiceEnding)
				continue
			}
			src, err := readMost(fsys, full, maxVoiceBytes)
			switch {
			case err != nil:
				b.report(full, place{1, 1}, "%s", err)
			case !isOpus(src):
				b.report(full, place{1, 1}, "this is not Ogg Opus")
			default:
				out[VoiceKey{language, module, card}] = src
			}
		}
	}
	return out
}

func voiceOf(file string, p *Pack) (module, card string, ok bool) {
	name, isOgg := strings.CutSuffix(file, voiceEnding)
	module, card, _ = strings.Cut(name, ".")
	m, found := p.Module(module)
	if !isOgg || !found || m.Lesson == nil {
		return "", "", false
	}
	c, found := m.Lesson.Card(card)
	return module, card, found && c.Safety
}

// isOpus says whether bytes begin as an Opus stream in Ogg (RFC 3533 section
// 6, RFC 7845 section 5.1): a page header of 28 bytes, then the Opus header.
func isOpus(src []byte) bool {
	return len(src) > 47 && string(src[:4]) == "OggS" && string(src[28:36]) == "OpusHead"
}
