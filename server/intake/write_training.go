package intake

import (
	"bytes"
	"encoding/csv"

	"tendfold/server/app"
)

var trainingColumns = []string{"person", "enterprise", "module", "module_name", "what", "on", "until", "how", "result", "score", "by"}

// TrainingCSV is a training record as a CSV file that a spreadsheet opens
// without reckoning anything in it.
func TrainingCSV(rows []app.RecordRow) ([]byte, error) {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	if err := w.Write(trainingColumns); err != nil {
		return nil, err
	}
	for _, r := range rows {
		cells := []string{r.Person, r.Enterprise, r.Module, r.Name, r.What, r.On.String(), r.Until.String(), r.How, r.Result, r.Score, r.By}
		for i, c := range cells {
			cells[i] = escape(c)
		}
		if err := w.Write(cells); err != nil {
			return nil, err
		}
	}
	w.Flush()
	return out.Bytes(), w.Error()
}
