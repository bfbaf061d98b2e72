package checklists

import (
	"slices"

	"tendfold/domain/training"
)

// Lesson is the content of a module: what is learned on cards, asked, and
// shown to a member of staff.
type Lesson struct {
	Cards     []Card
	Questions []Question
	Draw      int // how many questions a round asks
	Tasks     []LessonTask
}

// Card is one screen of a lesson.
type Card struct {
	Key     string
	Drawing string // of the pack's drawings
	Safety  bool   // has a recording where the pack brings one
	Title   Text
	Text    Text
	Source  string // of the pack's sources, "" = common practice
}

// Question is one of a module's bank: what marking rests on, and the words.
type Question struct {
	training.Question
	Card    string // the card that answers it
	Ask     Text
	Options []AnswerOption // in the order written; of an order, the right one
	Measure *Text          // of a sum's answer, nil for the others
	Why     Text
}

// AnswerOption is one possible answer; a picture's text says what is seen on it.
type AnswerOption struct {
	Key     string
	Text    Text
	Drawing string
}

// LessonTask is a thing that a member of staff must see done.
type LessonTask struct {
	Key  string
	Text Text
}

// Bank is what marking needs of the lesson.
func (l *Lesson) Bank() training.Bank {
	b := training.Bank{Draw: l.Draw, Questions: make([]training.Question, len(l.Questions))}
	for i, q := range l.Questions {
		b.Questions[i] = q.Question
	}
	return b
}

// Card is the card with a key.
func (l *Lesson) Card(key string) (Card, bool) {
	return find(l.Cards, func(c Card) bool { return c.Key == key })
}

// Question is the question with a key.
func (l *Lesson) Question(key string) (Question, bool) {
	return find(l.Questions, func(q Question) bool { return q.Key == key })
}

// HasTask says whether the practical check has a task with this key.
func (l *Lesson) HasTask(key string) bool {
	return slices.ContainsFunc(l.Tasks, func(t LessonTask) bool { return t.Key == key })
}

// VoiceKey names a recording: a card of a module in a language.
type VoiceKey struct{ Language, Module, Card string }
