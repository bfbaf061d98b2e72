package api

import (
	"context"
	"net/http"

	"tendfold/domain"
	"tendfold/server/app"
	"tendfold/server/paper"

	"github.com/danielgtaylor/huma/v2"
)

type (
	// InLanguage asks for texts in a language.
	InLanguage struct {
		Language string `query:"lang" enum:"en,fr" doc:"Of the texts; without it the person's own."`
	}
	trainingQuery struct {
		InLanguage
		Branch string `query:"branch" maxLength:"64"`
	}
	trainingAnswer   struct{ Body app.TrainingPage }
	farmTrainingPath struct {
		FarmPath
		InLanguage
	}
	farmTrainingAnswer struct {
		Body struct {
			Items []app.LearnerRow `json:"items"`
		}
	}
	questionsAnswer struct {
		Body struct {
			Items []app.QuestionRow `json:"items"`
		}
	}
	recordAnswer struct {
		Body struct {
			Items []app.RecordRow `json:"items"`
		}
	}
	fileAnswer struct {
		ContentType        string `header:"Content-Type"`
		ContentDisposition string `header:"Content-Disposition"`
		Body               []byte
	}
	newCertificate struct {
		ID   string `path:"id" maxLength:"64"`
		Body struct {
			Modules []app.ModuleKey `json:"modules,omitempty" maxItems:"100" doc:"Which of the modules held; left out = all of them."`
		}
	}
	certificateAnswer struct {
		Body struct {
			Code string `json:"code"`
		}
	}
	certificateQuery struct {
		InLanguage
		Code string `path:"code" minLength:"1" maxLength:"40" doc:"Small letters, spaces and hyphens do not count."`
	}
	certificatePage struct{ Body app.CertificatePage }
)

func (f Face) trainings(api huma.API) {
	const tag = "training"
	register(api, op("get-training", http.MethodGet, "/api/training", tag, "Who is learning what, and how far farms and branches are covered"), f.getTraining)
	register(api, op("list-questions", http.MethodGet, "/api/training/questions", tag, "How often each question was answered wrongly, with its interval"), f.listQuestions)
	register(api, op("get-training-record", http.MethodGet, "/api/training/record", tag, "Everything on record of the training"), f.trainingRecord)
	register(api, op("export-training", http.MethodGet, "/api/training/record.csv", tag, "The same for a spreadsheet"), f.exportTraining)
	register(api, op("get-farm-training", http.MethodGet, "/api/farms/{id}/training", tag, "Where those who work on a farm stand, with the seeds to ask them aloud"), f.farmTraining)
	register(api, op("issue-certificate", http.MethodPost, "/api/people/{id}/certificates", tag, "Give a person a certificate of modules held"), f.issueCertificate)
	register(api, op("get-certificate-paper", http.MethodGet, "/api/certificates/{code}/paper", tag, "The certificate as PDF, A5"), f.certificatePaper)
	check := op("check-certificate", http.MethodGet, "/api/certificates/{code}", tag, "Whether a certificate is still good: for whoever has the code")
	check.Security = nil
	register(api, check, f.checkCertificate)
}

// spoken is the language asked for, or the person's own.
func (l InLanguage) spoken(ctx context.Context) string {
	if l.Language != "" {
		return l.Language
	}
	return actor(ctx).Language
}

func (f Face) getTraining(ctx context.Context, in *trainingQuery) (*trainingAnswer, error) {
	page, err := f.Trainings.Page(ctx, actor(ctx), in.Branch, in.spoken(ctx))
	return &trainingAnswer{page}, err
}

func (f Face) farmTraining(ctx context.Context, in *farmTrainingPath) (*farmTrainingAnswer, error) {
	out := &farmTrainingAnswer{}
	var err error
	out.Body.Items, err = f.Trainings.OfFarm(ctx, actor(ctx), in.ID, in.spoken(ctx))
	return out, err
}

func (f Face) listQuestions(ctx context.Context, in *trainingQuery) (*questionsAnswer, error) {
	out := &questionsAnswer{}
	var err error
	out.Body.Items, err = f.Trainings.Questions(ctx, actor(ctx), in.Branch, in.spoken(ctx))
	return out, err
}

func (f Face) trainingRecord(ctx context.Context, in *trainingQuery) (*recordAnswer, error) {
	out := &recordAnswer{}
	var err error
	out.Body.Items, err = f.Trainings.Record(ctx, actor(ctx), in.Branch, in.spoken(ctx))
	return out, err
}

func (f Face) exportTraining(ctx context.Context, in *trainingQuery) (*fileAnswer, error) {
	rows, err := f.Trainings.Record(ctx, actor(ctx), in.Branch, in.spoken(ctx))
	if err != nil {
		return nil, err
	}
	file, err := f.TrainingCSV(rows)
	return &fileAnswer{"text/csv; charset=utf-8", `attachment; filename="training.csv"`, file}, err
}

func (f Face) issueCertificate(ctx context.Context, in *newCertificate) (*certificateAnswer, error) {
	c, err := f.Certificates.Issue(ctx, actor(ctx), in.ID, in.Body.Modules)
	out := &certificateAnswer{}
	out.Body.Code = c.Code
	return out, err
}

func (f Face) checkCertificate(ctx context.Context, in *certificateQuery) (*certificatePage, error) {
	page, err := f.Certificates.Check(ctx, in.Code, in.Language)
	return &certificatePage{page}, err
}

func (f Face) certificatePaper(ctx context.Context, in *certificateQuery) (*fileAnswer, error) {
	page, err := f.Certificates.Own(ctx, actor(ctx), in.Code, in.spoken(ctx))
	if err != nil {
		return nil, err
	}
	firm, err := f.Office.Firm(ctx)
	if err != nil {
		return nil, err
	}
	c := paper.Certificate{CertificatePage: page, Firm: firm.Name, Language: in.spoken(ctx)}
	if f.PublicURL != "" {
		c.CheckAt = f.PublicURL + "/certificates/" + page.Code
	}
	pdf, err := c.PDF()
	if err != nil {
		return nil, &domain.Error{Kind: domain.KindInternal, Code: "paper", Err: err}
	}
	return &fileAnswer{"application/pdf", `inline; filename="certificate.pdf"`, pdf}, nil
}
