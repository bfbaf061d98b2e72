// Package paper makes the papers that the firm gives out, as PDF.
package paper

import (
	"bytes"
	"strconv"
	"strings"
	"time"

	"tendfold/domain/calendar"
	"tendfold/server/app"

	"codeberg.org/go-pdf/fpdf"
)

// Certificate is what the paper says.
type Certificate struct {
	app.CertificatePage
	Firm     string
	Language string // en or fr
	CheckAt  string // address of the page that checks the code, "" when the server does not know how it is reached
}

type certificateWords struct {
	title, says, module, passed, until, issued, code, check string
}

var certificateText = map[string]certificateWords{
	"en": {
		"Certificate of training", "answered the questions and showed the work to us:", "Module", "Passed on", "Good until",
		"Given on", "Code", "Whether it is still good can be asked at",
	},
	"fr": {
		"Attestation de formation", "a répondu aux questions et nous a montré le travail :", "Module", "Validé le", "Bon jusqu'au",
		"Remise le", "Code", "Pour savoir si elle vaut encore :",
	},
}

// months as a paper writes them.
var months = map[string][]string{
	"en": strings.Fields("Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec"),
	"fr": strings.Fields("janv. févr. mars avr. mai juin juil. août sept. oct. nov. déc."),
}

// Sizes of an A5 page in millimetres, and of letters in points.
const (
	pageWidth, pageHeight = 148., 210.
	margin                = 14.
	dateWidth             = 28.
	line                  = 6.5
)

// PDF is the certificate on one A5 page. The letters of the built-in fonts
// are those of Windows-1252, which has all of English and French; another
// letter of a name is shown as a full stop.
func (c Certificate) PDF() ([]byte, error) {
	words, ok := certificateText[c.Language]
	if !ok {
		c.Language, words = "en", certificateText["en"]
	}
	// A5 by ISO 216; the library rounds it.
	p := sheet{fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: fpdf.SizeType{Wd: pageWidth, Ht: pageHeight}}), nil}
	p.say = p.UnicodeTranslatorFromDescriptor("")
	p.SetLang(c.Language)
	p.SetTitle(words.title, true)
	p.SetAuthor(c.Firm, true)
	p.SetCreationDate(c.IssuedOn.In(time.UTC))
	p.SetModificationDate(c.IssuedOn.In(time.UTC))
	p.SetCatalogSort(true)
	p.SetMargins(margin, margin, margin)
	p.AddPage()
	p.head(c, words)
	p.table(c, words)
	p.foot(c, words)
	var out bytes.Buffer
	err := p.Output(&out)
	return out.Bytes(), err
}

// sheet is a page under the pen.
type sheet struct {
	*fpdf.Fpdf
	say func(string) string // from UTF-8 to the letters of the font
}

func (p sheet) head(c Certificate, words certificateWords) {
	p.SetFont("Helvetica", "", 11)
	p.MultiCell(0, line, p.say(c.Firm), "", "L", false)
	p.Ln(line)
	p.SetFont("Helvetica", "B", 18)
	p.MultiCell(0, 9, p.say(words.title), "", "L", false)
	p.Ln(line / 2)
	p.SetFont("Helvetica", "B", 14)
	p.MultiCell(0, 8, p.say(c.Name), "", "L", false)
	p.SetFont("Helvetica", "", 11)
	p.MultiCell(0, line, p.say(words.says), "", "L", false)
	p.Ln(line / 2)
}

func (p sheet) table(c Certificate, words certificateWords) {
	p.SetFont("Helvetica", "B", 9)
	p.row(words.module, words.passed, words.until)
	p.SetFont("Helvetica", "", 9)
	for _, m := range c.Modules {
		p.row(m.Name, day(m.PassedOn, c.Language), day(m.Until, c.Language))
	}
	p.Ln(line)
}

// row is a line of the table; a long name goes over two.
func (p sheet) row(name, passed, until string) {
	width := pageWidth - 2*margin - 2*dateWidth
	y := p.GetY()
	p.MultiCell(width, line-1, p.say(name), "T", "L", false)
	after := p.GetY()
	p.SetXY(margin+width, y)
	p.CellFormat(dateWidth, line-1, p.say(passed), "T", 0, "L", false, 0, "")
	p.CellFormat(dateWidth, line-1, p.say(until), "T", 0, "L", false, 0, "")
	p.SetXY(margin, after)
}

func (p sheet) foot(c Certificate, words certificateWords) {
	p.SetFont("Helvetica", "", 10)
	p.MultiCell(0, line, p.say(words.issued+" "+day(c.IssuedOn, c.Language)), "", "L", false)
	p.MultiCell(0, line, p.say(words.code+" "+c.Code), "", "L", false)
	if c.CheckAt != "" {
		p.MultiCell(0, line, p.say(words.check+" "+c.CheckAt), "", "L", false)
	}
}

// dayAndMonth is a day of a year: 12 Mar; in French the first is "1er".
func dayAndMonth(d calendar.Date, language string) string {
	n := strconv.Itoa(d.Day())
	if language == "fr" && n == "1" {
		n = "1er"
	}
	return n + " " + months[language][d.Month()-1]
}

// day is a date as people write it: 12 Mar 2026.
func day(d calendar.Date, language string) string {
	if d.IsZero() {
		return ""
	}
	return dayAndMonth(d, language) + " " + strconv.Itoa(d.Year())
}
