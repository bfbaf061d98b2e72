package api

import (
	"cmp"
	"context"
	"net/http"

	"tendfold/domain/farm"

	"github.com/danielgtaylor/huma/v2"

	sheets "tendfold/server/app/register"
)

// maxRegister bounds an upload in bytes: the largest register that intake
// reads, and the form around it.
const maxRegister = 21 << 20

type (
	registerForm struct {
		File     huma.FormFile `form:"file" required:"true" doc:"CSV or XLSX, at most 20 MB."`
		Commit   bool          `form:"commit" required:"false" doc:"Write the good rows; without it only say what would be written."`
		Watch    bool          `form:"watch" required:"false" doc:"Start watching the farms at once."`
		Branch   string        `form:"branch" required:"false" doc:"Name of the branch for farms that name none."`
		Country  string        `form:"country" required:"false" doc:"Country of phone numbers without a country code (ISO 3166)."`
		Language string        `form:"language" required:"false" enum:"en,fr" doc:"Of the texts; without it the person's own."`
	}
	registerUpload struct {
		RawBody huma.MultipartFormFiles[registerForm]
	}
	registerAnswer struct {
		Body sheets.Answer
	}
)

func (f Face) intake(api huma.API) {
	o := op("import-register", http.MethodPost, "/api/intake", "register", "Read a register: a dry run, or with commit the import itself")
	o.MaxBodyBytes = maxRegister
	register(api, o, f.importRegister)
}

// importRegister needs no key: the same file again changes nothing.
func (f Face) importRegister(ctx context.Context, in *registerUpload) (*registerAnswer, error) {
	form := in.RawBody.Data()
	table, err := f.ReadRegister(form.File)
	if err != nil {
		return nil, err
	}
	who := actor(ctx)
	result, err := f.Imports.Run(ctx, who, sheets.Import{
		Sheet: table, Name: form.File.Filename, Commit: form.Commit, Watch: form.Watch,
		Branch: farm.Branch{Name: form.Branch, Country: form.Country}, Country: form.Country,
	})
	if err != nil {
		return nil, err
	}
	return &registerAnswer{result.Tell(cmp.Or(form.Language, who.Language), table.Header(), form.Commit)}, nil
}
