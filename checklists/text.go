package checklists

// Text is something that people read, in both languages of the house.
type Text struct {
	EN string `json:"en" yaml:"en"`
	FR string `json:"fr" yaml:"fr"`
}

// In is the text in lang: French for "fr", English for anything else.
func (t Text) In(lang string) string {
	if lang == "fr" {
		return t.FR
	}
	return t.EN
}

// IsZero says whether nothing is written in either language.
func (t Text) IsZero() bool { return t == Text{} }
