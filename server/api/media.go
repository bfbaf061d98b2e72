package api

import (
	"context"
	"mime"
	"net/http"
	"strings"

	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/media"

	"github.com/danielgtaylor/huma/v2"
)

type (
	newMedia struct {
		Body struct {
			ID      string     `json:"id" format:"uuid" doc:"UUIDv7, made by whoever sends; the same id again is the same photo or voice note."`
			FarmID  string     `json:"farm_id" minLength:"1" maxLength:"64"`
			EntryID string     `json:"entry_id" minLength:"1" maxLength:"64" doc:"The entry that it belongs to, which may come later."`
			Kind    media.Kind `json:"kind" enum:"photo,voice"`
			Size    int64      `json:"size" minimum:"1" doc:"Bytes that will come."`
			SHA256  string     `json:"sha256" pattern:"^[0-9a-f]{64}$" doc:"Of those bytes, in hexadecimal."`
			Taken   *takenAt   `json:"taken,omitempty" doc:"Where it was taken; only if the person agreed to say so."`
		}
	}
	takenAt struct {
		Lat float64 `json:"lat" minimum:"-90" maximum:"90"`
		Lng float64 `json:"lng" minimum:"-180" maximum:"180"`
	}
	// MediaPath names a photo or a voice note in an address. It is exported
	// because huma reads embedded structs only then.
	MediaPath struct {
		ID string `path:"id" maxLength:"64"`
	}
	mediaPart struct {
		MediaPath
		Offset  int64  `query:"offset" minimum:"0" required:"true" doc:"How many bytes came before; 409 media-offset tells the right one."`
		RawBody []byte `contentType:"application/octet-stream"`
	}
	mediaAnswer struct {
		Body app.Upload
	}
	mediaFile struct {
		MediaPath
		IfNoneMatch string `header:"If-None-Match" maxLength:"100"`
	}
	mediaContent struct {
		Status      int
		Type        string `header:"Content-Type"`
		Disposition string `header:"Content-Disposition"`
		Cache       string `header:"Cache-Control"`
		ETag        string `header:"ETag"`
		Body        []byte
	}
)

func (f Face) media(api huma.API) {
	const tag = "photos and voice notes"
	register(api, op("announce-media", http.MethodPost, "/api/media", tag, "Announce a photo or a voice note; again, to ask how far it is"), f.announceMedia)
	part := op("send-media", http.MethodPut, "/api/media/{id}/parts", tag, "Send a piece that follows what has come")
	part.MaxBodyBytes = media.MostChunk + 1 // one more, so that app can say what is wrong
	register(api, part, f.sendMedia)
	register(api, op("finish-media", http.MethodPost, "/api/media/{id}/finish", tag, "Hold the whole against its hash and keep it"), f.finishMedia)
	register(api, raw(op("get-media", http.MethodGet, "/api/media/{id}", tag, "A photo or a voice note")), f.getMedia)
	register(api, raw(op("get-thumbnail", http.MethodGet, "/api/media/{id}/thumbnail", tag, "The small picture of a photo")), f.getThumbnail)
}

// raw describes an answer that is a file.
func raw(o huma.Operation) huma.Operation {
	o.Responses = map[string]*huma.Response{"200": {
		Description: "The file, of the type that its content has.",
		Content:     map[string]*huma.MediaType{"application/octet-stream": {Schema: &huma.Schema{Type: huma.TypeString, Format: "binary"}}},
	}}
	return o
}

func (f Face) announceMedia(ctx context.Context, in *newMedia) (*mediaAnswer, error) {
	b := in.Body
	m := app.NewMedium{ID: b.ID, FarmID: b.FarmID, EntryID: b.EntryID, Kind: b.Kind, Size: b.Size, SHA256: b.SHA256}
	if b.Taken != nil {
		m.Taken = farm.Position{Lat: b.Taken.Lat, Lng: b.Taken.Lng, Known: true}
	}
	up, err := f.Media.Announce(ctx, actor(ctx), m)
	return &mediaAnswer{up}, err
}

func (f Face) sendMedia(ctx context.Context, in *mediaPart) (*mediaAnswer, error) {
	up, err := f.Media.Append(ctx, actor(ctx), in.ID, in.Offset, in.RawBody)
	return &mediaAnswer{up}, err
}

func (f Face) finishMedia(ctx context.Context, in *MediaPath) (*mediaAnswer, error) {
	up, err := f.Media.Finish(ctx, actor(ctx), in.ID)
	return &mediaAnswer{up}, err
}

func (f Face) getMedia(ctx context.Context, in *mediaFile) (*mediaContent, error) {
	return f.mediaContent(ctx, in, false)
}

func (f Face) getThumbnail(ctx context.Context, in *mediaFile) (*mediaContent, error) {
	return f.mediaContent(ctx, in, true)
}

// shown are the types that a browser may open in its own window; all else is
// saved as a file and never run.
var shown = map[string]string{"image/jpeg": ".jpg", "audio/ogg": ".ogg", "audio/webm": ".webm", "audio/mp4": ".m4a"}

// mediaContent answers a file. It may lie in the browser that was allowed to
// read it, but is asked for each time: the next person there may not be.
func (f Face) mediaContent(ctx context.Context, in *mediaFile, small bool) (*mediaContent, error) {
	file, err := f.Media.Read(ctx, actor(ctx), in.ID, small)
	if err != nil {
		return nil, err
	}
	out := &mediaContent{Status: http.StatusOK, Cache: "private, no-cache", ETag: `"` + file.Tag + `"`, Type: file.Type, Body: file.Content}
	how, end := "inline", shown[file.Type]
	if end == "" {
		how, out.Type = "attachment", "application/octet-stream"
	}
	out.Disposition = mime.FormatMediaType(how, map[string]string{"filename": file.Name + end})
	if strings.TrimPrefix(in.IfNoneMatch, "W/") == out.ETag {
		out.Status, out.Body = http.StatusNotModified, nil
	}
	return out, nil
}
