package app

import (
	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/training"
)

// Lessons is the content of the modules as a phone keeps it: one language,
// nothing that no screen shows.
type Lessons struct{ packs *checklists.Set }

// NewLessons wires the use case.
func NewLessons(packs *checklists.Set) *Lessons { return &Lessons{packs} }

// LessonsPage is the content of an enterprise's modules in one language.
type LessonsPage struct {
	Enterprise string         `json:"enterprise"`
	Language   string         `json:"language"`
	Modules    []LessonModule `json:"modules"`
}

// LessonModule is one module's cards, bank of questions and practical check.
// The answers are there: a phone without a network marks by itself, and what
// counts is marked again here.
type LessonModule struct {
	Key        string           `json:"key"`
	Name       string           `json:"name"`
	Safety     bool             `json:"safety,omitempty"`
	Version    string           `json:"version" doc:"Of the questions; goes back with the answers."`
	Draw       int              `json:"draw" doc:"How many questions a round asks."`
	VoiceBytes int              `json:"voice_bytes,omitempty" doc:"Size of the recordings in this language, fetched apart."`
	Cards      []LessonCard     `json:"cards"`
	Questions  []LessonQuestion `json:"questions"`
	Tasks      []LessonText     `json:"tasks"`
}

// LessonCard is one screen to learn from.
type LessonCard struct {
	Key     string `json:"key"`
	Drawing string `json:"drawing"`
	Safety  bool   `json:"safety,omitempty"`
	Title   string `json:"title"`
	Text    string `json:"text"`
	Voice   bool   `json:"voice,omitempty" doc:"There is a recording in this language."`
}

// LessonText is a key and what it says.
type LessonText struct {
	Key  string `json:"key"`
	Text string `json:"text"`
}

// LessonQuestion is a question of the bank.
type LessonQuestion struct {
	Key       string                `json:"key"`
	Kind      training.QuestionKind `json:"kind" enum:"one,order,picture,sum"`
	Safety    bool                  `json:"safety,omitempty"`
	Card      string                `json:"card"`
	Ask       string                `json:"ask"`
	Options   []LessonOption        `json:"options,omitempty" doc:"Of an order: in the right order."`
	Right     string                `json:"right,omitempty"`
	Answer    float64               `json:"answer,omitempty"`
	Tolerance float64               `json:"tolerance,omitempty"`
	Measure   string                `json:"measure,omitempty"`
	Why       string                `json:"why"`
}

// LessonOption is one possible answer.
type LessonOption struct {
	LessonText
	Drawing string `json:"drawing,omitempty"`
}

// Read is the content of an enterprise.
func (s *Lessons) Read(enterprise, language string) (LessonsPage, error) {
	out := LessonsPage{Enterprise: enterprise, Language: language, Modules: []LessonModule{}}
	pack, ok := s.packs.Pack(enterprise)
	if !ok {
		return out, domain.NotFound("pack")
	}
	say := lessonReader{pack, language}
	for _, m := range pack.Modules {
		if m.Lesson != nil {
			out.Modules = append(out.Modules, say.module(m))
		}
	}
	return out, nil
}

type lessonReader struct {
	pack     *checklists.Pack
	language string
}

func (r lessonReader) say(t checklists.Text) string { return t.In(r.language) }

func (r lessonReader) module(m checklists.Module) LessonModule {
	out := LessonModule{Key: m.Key, Name: r.say(m.Name), Safety: m.Safety, Version: m.Lesson.Bank().Version(), Draw: m.Lesson.Draw}
	for _, c := range m.Lesson.Cards {
		voice := r.pack.Voices[checklists.VoiceKey{Language: r.language, Module: m.Key, Card: c.Key}]
		out.VoiceBytes += len(voice)
		out.Cards = append(out.Cards, LessonCard{
			Key: c.Key, Drawing: c.Drawing, Safety: c.Safety, Title: r.say(c.Title), Text: r.say(c.Text), Voice: voice != nil,
		})
	}
	for _, q := range m.Lesson.Questions {
		out.Questions = append(out.Questions, r.question(q))
	}
	for _, t := range m.Lesson.Tasks {
		out.Tasks = append(out.Tasks, LessonText{t.Key, r.say(t.Text)})
	}
	return out
}

func (r lessonReader) question(q checklists.Question) LessonQuestion {
	out := LessonQuestion{
		Key: q.Key, Kind: q.Kind, Safety: q.Safety, Card: q.Card, Ask: r.say(q.Ask), Right: q.Right,
		Answer: q.Answer, Tolerance: q.Tolerance, Why: r.say(q.Why),
	}
	if q.Measure != nil {
		out.Measure = r.say(*q.Measure)
	}
	for _, o := range q.Options {
		out.Options = append(out.Options, LessonOption{LessonText{o.Key, r.say(o.Text)}, o.Drawing})
	}
	return out
}

// Drawings are the SVG drawings that an enterprise's lessons show, by name.
func (s *Lessons) Drawings(enterprise string) (map[string]string, error) {
	pack, ok := s.packs.Pack(enterprise)
	if !ok {
		return nil, domain.NotFound("pack")
	}
	out := map[string]string{}
	for _, m := range pack.Modules {
		if m.Lesson == nil {
			continue
		}
		for _, c := range m.Lesson.Cards {
			out[c.Drawing] = pack.Drawings[c.Drawing]
		}
		for _, q := range m.Lesson.Questions {
			for _, o := range q.Options {
				if o.Drawing != "" {
					out[o.Drawing] = pack.Drawings[o.Drawing]
				}
			}
		}
	}
	return out, nil
}

// Voices are a module's recordings in a language, by card: Ogg Opus.
func (s *Lessons) Voices(enterprise, module, language string) (map[string][]byte, error) {
	pack, ok := s.packs.Pack(enterprise)
	if !ok {
		return nil, domain.NotFound("pack")
	}
	out := map[string][]byte{}
	for key, voice := range pack.Voices {
		if key.Module == module && key.Language == language {
			out[key.Card] = voice
		}
	}
	return out, nil
}
