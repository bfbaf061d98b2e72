package intake

import (
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/server/app/register"
)

// Dump is one kind of thing that an export writes, as a file of its name.
// Columns are the headings. Rows calls row once for each thing, in a lasting
// order; its cells are texts, whole and other numbers, bools, days and
// instants.
type Dump struct {
	Name    string
	Columns []string
	Rows    func(ctx context.Context, row func(cells []any) error) error
}

// Source is what an export reads: the register, and everything else as it is
// kept. Secrets (passwords, sessions, keys) are not among the dumps.
type Source interface {
	RegisterSnapshot(ctx context.Context) (register.Snapshot, error)
	Dumps() []Dump
}

// File is a file that an export has written.
type File struct {
	Name string `json:"name"`
	Rows int    `json:"rows"`
}

// Export writes everything into a folder, one CSV file a kind of thing:
// register.csv in the columns of a register, so that it can be taken in
// again, and each dump of the source. The folder is made when missing, with
// nobody else's eyes on it; files of the same names are replaced, each only
// when it is whole. told is called after each file; it may be nil.
func Export(ctx context.Context, dir string, from Source, packs *checklists.Set, told func(File)) ([]File, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, folderError(dir, err)
	}
	snap, err := from.RegisterSnapshot(ctx)
	if err != nil {
		return nil, err
	}
	lines := register.Lines(snap, packs.Pack)
	e := export{dir: dir, told: told}
	e.write("register", func(to io.Writer) (int, error) { return len(lines), WriteRegister(to, lines) })
	for _, d := range from.Dumps() {
		e.write(d.Name, func(to io.Writer) (int, error) { return writeDump(ctx, to, d) })
	}
	return e.files, e.err
}

// export is an export under way; it stops at the first error.
type export struct {
	dir   string
	told  func(File)
	files []File
	err   error
}

func (e *export) write(name string, write func(io.Writer) (rows int, err error)) {
	if e.err != nil {
		return
	}
	f := File{Name: name + ".csv"}
	err := whole(filepath.Join(e.dir, f.Name), func(to io.Writer) (err error) {
		f.Rows, err = write(to)
		return err
	})
	if err != nil {
		e.err = folderError(e.dir, err)
		return
	}
	e.files = append(e.files, f)
	if e.told != nil {
		e.told(f)
	}
}

// whole writes a file beside its name and moves it there when it is done.
func whole(name string, write func(io.Writer) error) (err error) {
	f, err := os.OpenFile(name+".part", os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			_ = os.Remove(f.Name())
		}
	}()
	if err := write(f); err != nil {
		return errors.Join(err, f.Close())
	}
	if err := errors.Join(f.Sync(), f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), name)
}

func writeDump(ctx context.Context, to io.Writer, d Dump) (rows int, err error) {
	out := csv.NewWriter(to)
	if err := out.Write(d.Columns); err != nil {
		return 0, err
	}
	texts := make([]string, len(d.Columns))
	err = d.Rows(ctx, func(cells []any) error {
		if len(cells) != len(texts) {
			return fmt.Errorf("export of %s: %d cells under %d headings", d.Name, len(cells), len(texts))
		}
		for i, c := range cells {
			texts[i] = escape(cellText(c))
		}
		rows++
		return out.Write(texts)
	})
	if err != nil {
		return rows, err
	}
	out.Flush()
	return rows, out.Error()
}

// cellText is a value as an export writes it: instants in UTC, yes and no for
// bools, nothing for what is not known.
func cellText(v any) string {
	switch x := v.(type) {
	case nil:
		return ""
	case string:
		return x
	case []byte:
		return string(x)
	case bool:
		if x {
			return "yes"
		}
		return "no"
	case int:
		return strconv.Itoa(x)
	case int64:
		return strconv.FormatInt(x, 10)
	case float64:
		return strconv.FormatFloat(x, 'f', -1, 64)
	case calendar.Date:
		return x.String()
	case time.Time:
		if x.IsZero() {
			return ""
		}
		return x.UTC().Format(time.RFC3339Nano)
	}
	return fmt.Sprint(v)
}

// folderError keeps errors that are the house's own, and puts those of the
// file system into words.
func folderError(dir string, err error) error {
	var own *domain.Error
	if errors.As(err, &own) || errors.Is(err, context.Canceled) {
		return err
	}
	return &domain.Error{
		Kind: domain.KindBusy, Code: "export-folder", Err: err,
		Text: fmt.Sprintf("The export could not be written to %s. Check that the folder can be written to and that the disk is not full.", dir),
	}
}
