package reckon

import "embed"

//go:embed templates/*.yaml
var templates embed.FS

// Template is a commented example of what a topic reads, a whole document that
// is answered as it stands.
func Template(topic Topic, lang Lang) string {
	src, err := templates.ReadFile("templates/" + string(topic) + "." + string(lang) + ".yaml")
	if err != nil {
		return "" // a test holds every topic and language to a file
	}
	return string(src)
}
