package intake

import (
	"bytes"
	"encoding/csv"
	"strconv"

	"tendfold/server/app"
)

// reviewColumns are what a veterinarian reads, and two that they fill in.
var reviewColumns = []string{
	"enterprise", "sign", "version", "statement", "key", "english", "english_now", "french", "french_now", "grade", "note", "agrees", "change",
}

// ReviewCSV is what no veterinarian has checked yet in the triage cards, a
// row a statement, as a CSV file that a spreadsheet opens without running any
// of its cells. Cards that somebody has signed in this version are left out.
func ReviewCSV(cards []app.CardStatus) ([]byte, error) {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	if err := w.Write(reviewColumns); err != nil {
		return nil, err
	}
	for _, card := range cards {
		if len(card.Reviews) > 0 {
			continue
		}
		for _, e := range card.Estimates {
			nowEN, nowFR := "", ""
			if e.Now != nil {
				nowEN, nowFR = e.Now.EN, e.Now.FR
			}
			cells := []string{
				card.Enterprise, card.Sign, strconv.Itoa(card.Version), e.Kind, e.Key, e.Text.EN, nowEN, e.Text.FR, nowFR, string(e.Grade), e.Note, "", "",
			}
			for i, c := range cells {
				cells[i] = escape(c)
			}
			if err := w.Write(cells); err != nil {
				return nil, err
			}
		}
	}
	w.Flush()
	return out.Bytes(), w.Error()
}
