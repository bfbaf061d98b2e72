package checklists

import (
	"io/fs"
	"path"
	"slices"
	"strings"
	"unicode/utf8"

	"tendfold/domain/training"
)

// Bounds of a lesson.
const (
	fewestCards, mostCards = 3, 6
	fewestQuestions        = 10 // a bank larger than any draw, so that a retake asks other things
	fewestAsked            = 6
	longestTitle           = 40  // characters, for one line of a small screen
	longestCard            = 500 // characters, to be read aloud in half a minute
	largestSum             = 1e9
)

const (
	lessonFolder = "training"
	yamlEnding   = ".yaml"
)

// readLessons reads the content of every module that has any: a pack may
// name modules that are taught from paper.
func readLessons(b *book, fsys fs.FS, dir string, p *Pack) {
	folder := path.Join(dir, lessonFolder)
	for _, name := range filesIn(b, fsys, folder) {
		key, isYAML := strings.CutSuffix(name, yamlEnding)
		i := slices.IndexFunc(p.Modules, func(m Module) bool { return m.Key == key })
		if !isYAML || i < 0 {
			b.report(path.Join(folder, name), place{1, 1}, "there is no module of this name in %s", trainingFile)
			continue
		}
		p.Modules[i].Lesson = readLesson(open(b, fsys, path.Join(folder, name), name), key, p)
	}
}

// filesIn are the names of the files in a folder; none when it is not there.
func filesIn(b *book, fsys fs.FS, folder string) []string {
	if _, err := fs.Stat(fsys, folder); err != nil {
		return nil
	}
	entries, err := fs.ReadDir(fsys, folder)
	if err != nil {
		b.report(folder, place{1, 1}, "the folder cannot be read: %s", err)
	}
	if len(entries) > maxList {
		b.report(folder, place{1, 1}, "there are more than %d files here", maxList)
		return nil
	}
	var out []string
	for _, e := range entries {
		if e.Name()[0] != '.' {
			out = append(out, e.Name())
		}
	}
	return out
}

func readLesson(c cursor, module string, p *Pack) *Lesson {
	o := c.object("module", "cards", "questions", "draw", "tasks")
	if m := o.need("module"); m.line() != module {
		m.wrong("is %q, but the file is that of %q", m.line(), module)
	}
	r := lessonReader{module: module, pack: p}
	l := &Lesson{}
	cards := o.need("cards")
	for _, each := range cards.list() {
		l.Cards = append(l.Cards, r.card(each))
	}
	cards.count(len(l.Cards), fewestCards, mostCards)
	questions := o.need("questions")
	for _, each := range questions.list() {
		l.Questions = append(l.Questions, r.question(each))
	}
	questions.count(len(l.Questions), fewestQuestions, maxList)
	l.Draw = o.need("draw").whole(fewestAsked, max(fewestAsked, len(l.Questions)))
	for _, each := range o.need("tasks").some() {
		t := each.object("key", "text")
		l.Tasks = append(l.Tasks, LessonTask{Key: t.need("key").declared(r.kind("task")), Text: t.need("text").text()})
	}
	return l
}

// count reports a list that is too short or too long.
func (c cursor) count(n, least, most int) {
	if c.absent() || c.node.shape != aList || least <= n && n <= most {
		return
	}
	c.wrong("has %d entries; it must have %d to %d", n, least, most)
}

// lessonReader reads one module's content.
type lessonReader struct {
	module string
	pack   *Pack
}

// kind keeps the names of one module apart from those of the others.
func (r lessonReader) kind(of string) kind { return kind(r.module + " " + of) }

func (r lessonReader) card(c cursor) Card {
	o := c.object("key", "drawing", "safety", "title", "text", "source")
	card := Card{
		Key:     o.need("key").declared(r.kind("card")),
		Drawing: r.drawing(o.need("drawing")),
		Safety:  o.may("safety").yes(),
		Title:   o.need("title").textOf(longestTitle),
		Text:    o.need("text").textOf(longestCard),
	}
	if s := o.may("source"); !s.absent() {
		card.Source = s.ref(aSource)
	}
	return card
}

// textOf reads the two languages, each of so many characters at most.
func (c cursor) textOf(most int) Text {
	t := c.text()
	for _, s := range []string{t.EN, t.FR} {
		if n := utf8.RuneCountInString(s); n > most {
			c.wrong("has %d characters in one language; at most %d fit", n, most)
		}
	}
	return t
}

// drawing reads the name of one of the pack's drawings.
func (r lessonReader) drawing(c cursor) string {
	name := c.key()
	if _, ok := r.pack.Drawings[name]; !ok && name != "" {
		c.wrong("there is no %s/%s%s in this pack", drawingFolder, name, drawingEnding)
	}
	return name
}

func (r lessonReader) question(c cursor) Question {
	o := c.object("key", "kind", "safety", "card", "ask", "options", "right", "answer", "tolerance", "measure", "why")
	q := Question{
		Card: o.need("card").ref(r.kind("card")),
		Ask:  o.need("ask").text(),
		Why:  o.need("why").text(),
	}
	q.Key = o.need("key").declared(r.kind("question"))
	q.Kind = choice(o.need("kind"), training.One, training.Order, training.Picture, training.Sum)
	q.Safety = o.may("safety").yes()
	if q.Kind == training.Sum {
		r.sum(o, &q)
		return q
	}
	r.options(o, &q)
	return q
}

func (r lessonReader) sum(o object, q *Question) {
	for _, key := range []string{"options", "right"} {
		o.may(key).wrong("has no place in a sum, which has answer, tolerance and measure")
	}
	q.Answer = o.need("answer").number(-largestSum, largestSum)
	if t := o.may("tolerance"); !t.absent() {
		q.Tolerance = t.number(0, largestSum)
	}
	measure := o.need("measure").text()
	q.Measure = &measure
}

// optionBounds are how many options a kind has.
var optionBounds = map[training.QuestionKind][2]int{training.One: {3, 4}, training.Picture: {2, 4}, training.Order: {3, 5}}

func (r lessonReader) options(o object, q *Question) {
	for _, key := range []string{"answer", "tolerance", "measure"} {
		o.may(key).wrong("is for a sum; this question has options")
	}
	list := o.need("options")
	for _, each := range list.list() {
		option := r.option(each, q.Kind == training.Picture)
		if option.Key != "" && slices.Contains(q.Question.Options, option.Key) {
			each.wrong("%q is named twice", option.Key)
		}
		q.Options, q.Question.Options = append(q.Options, option), append(q.Question.Options, option.Key)
	}
	if bounds, ok := optionBounds[q.Kind]; ok {
		list.count(len(q.Options), bounds[0], bounds[1])
	}
	if q.Kind == training.Order {
		o.may("right").wrong("has no place in an order; the options are written in the right order")
		return
	}
	right := o.need("right")
	if q.Right = right.key(); q.Right != "" && !slices.Contains(q.Question.Options, q.Right) {
		right.wrong("%q is not one of the options", q.Right)
	}
}

func (r lessonReader) option(c cursor, picture bool) AnswerOption {
	if !picture {
		o := c.object("key", "text")
		return AnswerOption{Key: o.need("key").key(), Text: o.need("text").text()}
	}
	o := c.object("key", "text", "drawing")
	return AnswerOption{Key: o.need("key").key(), Text: o.need("text").text(), Drawing: r.drawing(o.need("drawing"))}
}
