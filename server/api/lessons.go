package api

import (
	"context"
	"net/http"

	"tendfold/server/app"

	"github.com/danielgtaylor/huma/v2"
)

type (
	// LessonsOf names an enterprise.
	LessonsOf struct {
		Enterprise string `path:"enterprise" maxLength:"64"`
	}
	lessonsQuery struct {
		LessonsOf
		SameAsBefore
	}
	lessonsAnswer struct {
		Status int
		ETag   string `header:"ETag"`
		Body   *app.LessonsPage
	}
	drawingsAnswer struct {
		Status int
		ETag   string `header:"ETag"`
		Body   *drawingsBody
	}
	drawingsBody struct {
		Drawings map[string]string `json:"drawings" doc:"SVG by name."`
	}
	voicesQuery struct {
		LessonsOf
		Module string `path:"module" maxLength:"64"`
		SameAsBefore
	}
	voicesAnswer struct {
		Status int
		ETag   string `header:"ETag"`
		Body   *voicesBody
	}
	voicesBody struct {
		Voices map[string][]byte `json:"voices" doc:"Ogg Opus in base64, by card."`
	}
)

func (f Face) lessons(api huma.API) {
	const tag = "training"
	register(api, op("get-lessons", http.MethodGet, "/api/lessons/{enterprise}", tag, "Cards, questions and practical checks of an enterprise's modules"), f.getLessons)
	register(api, op("get-drawings", http.MethodGet, "/api/lessons/{enterprise}/drawings", tag, "The drawings that the lessons of an enterprise show"), f.getDrawings)
	register(api, op("get-voices", http.MethodGet, "/api/lessons/{enterprise}/voices/{module}", tag, "The recordings of a module's safety cards"), f.getVoices)
}

// spoken is the language asked for, or the person's own.
func (s SameAsBefore) spoken(ctx context.Context) string {
	if s.Language != "" {
		return s.Language
	}
	return actor(ctx).Language
}

// unlessSame is the status and tag of a content, and no content where the
// caller has it.
func unlessSame[T any](s SameAsBefore, content *T) (status int, tag string, body *T) {
	tag, same := s.compare(content)
	if same {
		return http.StatusNotModified, tag, nil
	}
	return http.StatusOK, tag, content
}

func (f Face) getLessons(ctx context.Context, in *lessonsQuery) (*lessonsAnswer, error) {
	page, err := f.Lessons.Read(in.Enterprise, in.spoken(ctx))
	if err != nil {
		return nil, err
	}
	out := &lessonsAnswer{}
	out.Status, out.ETag, out.Body = unlessSame(in.SameAsBefore, &page)
	return out, nil
}

func (f Face) getDrawings(_ context.Context, in *lessonsQuery) (*drawingsAnswer, error) {
	drawings, err := f.Lessons.Drawings(in.Enterprise)
	if err != nil {
		return nil, err
	}
	out := &drawingsAnswer{}
	out.Status, out.ETag, out.Body = unlessSame(in.SameAsBefore, &drawingsBody{drawings})
	return out, nil
}

func (f Face) getVoices(ctx context.Context, in *voicesQuery) (*voicesAnswer, error) {
	voices, err := f.Lessons.Voices(in.Enterprise, in.Module, in.spoken(ctx))
	if err != nil {
		return nil, err
	}
	out := &voicesAnswer{}
	out.Status, out.ETag, out.Body = unlessSame(in.SameAsBefore, &voicesBody{voices})
	return out, nil
}
