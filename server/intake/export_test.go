package intake_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/server/app/register"
	"tendfold/server/app/register/registertest"
	"tendfold/server/intake"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Names that a spreadsheet would reckon with are made harmless on the way
// out, and are themselves again on the way in.
func TestFormulasGoOutHarmlessAndComeBack(t *testing.T) {
	const text = "client,farm,unit,enterprise,town,wall_base,caretaker,length,width\n" +
		"\"=HYPERLINK(\"\"http://x\"\",\"\"y\"\")\",+Farm,@1,snail,-cmd,'quoted,''twice,12 m,30 ft\n"
	f := newFirm(t)
	require.Equal(t, 1, f.take(t, []byte(text)).New)
	require.Equal(t, `=HYPERLINK("http://x","y")`, f.memory.Snapshot.Clients[0].Name)
	data := export(t, f.memory.Snapshot)
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	require.NoError(t, err)
	for _, cell := range rows[1] {
		require.False(t, cell != "" && strings.ContainsAny(cell[:1], "=+-@"), cell)
	}
	a := f.take(t, data)
	require.Equal(t, 1, a.Same)
	require.Equal(t, a.Rows, a.Same)
}

// Whatever people type into the cells of words, an export taken in again
// changes nothing.
func TestAnExportChangesNothing(t *testing.T) {
	word := rapid.StringMatching(`[=+@'A-Za-zéœ0-9#(][A-Za-zé0-9 ,;"'=.&/-]{0,11}[A-Za-z0-9]`)
	rapid.Check(t, func(t *rapid.T) {
		var text bytes.Buffer
		out := csv.NewWriter(&text)
		require.NoError(t, out.Write([]string{"client", "farm", "unit", "enterprise", "town", "landmark", "wall_base", "water", "drain", "caretaker", "caretaker_phone", "client_phone"}))
		for range rapid.IntRange(1, 6).Draw(t, "rows") {
			row := make([]string, 12)
			for i := range row {
				row[i] = word.Draw(t, "cell")
			}
			row[3] = rapid.SampledFrom([]string{"snail", "silure"}).Draw(t, "enterprise")
			require.NoError(t, out.Write(row))
		}
		out.Flush()
		f := newFirm(t)
		f.take(t, text.Bytes())
		packs, err := shipped()
		require.NoError(t, err)
		var exported bytes.Buffer
		require.NoError(t, intake.WriteRegister(&exported, register.Lines(f.memory.Snapshot, packs.Pack)))
		a := f.take(t, exported.Bytes())
		require.Equal(t, a.Rows, a.Same, exported.String())
	})
}

// archive is a source with one more dump.
type archive struct {
	*registertest.Memory
	rows [][]any
	fail error
}

func (s archive) Dumps() []intake.Dump {
	return []intake.Dump{{
		Name: "visits", Columns: []string{"farm", "on", "made_at", "done", "hours", "count", "note"},
		Rows: func(_ context.Context, row func([]any) error) error {
			for _, r := range s.rows {
				if err := row(r); err != nil {
					return err
				}
			}
			return s.fail
		},
	}}
}

func TestExport(t *testing.T) {
	f := newFirm(t)
	_, data := write(t, "comma utf-8", 5, 50)
	f.take(t, data)
	packs, err := shipped()
	require.NoError(t, err)
	at := time.Date(2026, 11, 25, 10, 0, 0, 250_000_000, time.FixedZone("here", 3600))
	source := archive{Memory: f.memory, rows: [][]any{
		{"Hill", calendar.MustDate("2026-11-20"), at, true, 1.5, int64(3), "=1+1"},
		{"Lake", calendar.Date(0), time.Time{}, false, 0.0, 0, nil},
	}}
	dir := filepath.Join(t.TempDir(), "out")
	var told []intake.File
	files, err := intake.Export(context.Background(), dir, source, packs, func(f intake.File) { told = append(told, f) })
	require.NoError(t, err)
	require.Equal(t, files, told)
	require.Equal(t, intake.File{Name: "visits.csv", Rows: 2}, files[1])
	require.Equal(t, len(f.memory.Snapshot.Units), files[0].Rows)
	got, err := os.ReadFile(filepath.Join(dir, "visits.csv"))
	require.NoError(t, err)
	require.Equal(t, "farm,on,made_at,done,hours,count,note\nHill,2026-11-20,2026-11-25T09:00:00.25Z,yes,1.5,3,'=1+1\nLake,,,no,0,0,\n", string(got))
	info, err := os.Stat(filepath.Join(dir, "register.csv"))
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o600), info.Mode().Perm(), "names and phones are nobody else's business")
	in, err := os.ReadFile(filepath.Join(dir, "register.csv"))
	require.NoError(t, err)
	a := f.take(t, in)
	require.Equal(t, a.Rows, a.Same)
}

// A dump that breaks off leaves the file of last time, and no half of one.
func TestAnExportThatFailsLeavesNoHalfFile(t *testing.T) {
	f := newFirm(t)
	packs, err := shipped()
	require.NoError(t, err)
	dir := t.TempDir()
	source := archive{Memory: f.memory, rows: [][]any{{"Hill", calendar.Date(0), time.Time{}, true, 1.0, 1, ""}}}
	_, err = intake.Export(context.Background(), dir, source, packs, nil)
	require.NoError(t, err)
	before, err := os.ReadFile(filepath.Join(dir, "visits.csv"))
	require.NoError(t, err)

	source.fail = errors.New("the disk is on fire")
	_, err = intake.Export(context.Background(), dir, source, packs, nil)
	require.Equal(t, "export-folder", domain.CodeOf(err))
	after, err := os.ReadFile(filepath.Join(dir, "visits.csv"))
	require.NoError(t, err)
	require.Equal(t, before, after)
	left, err := filepath.Glob(filepath.Join(dir, "*.part"))
	require.NoError(t, err)
	require.Empty(t, left)

	_, err = intake.Export(context.Background(), filepath.Join(dir, "visits.csv", "sub"), source, packs, nil)
	require.Equal(t, "export-folder", domain.CodeOf(err))
}
