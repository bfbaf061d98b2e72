package api

import (
	"context"
	"net/http"

	"tendfold/server/app"

	"github.com/danielgtaylor/huma/v2"
)

type (
	reachAnswer struct {
		ETag string `header:"ETag"`
		Body app.Settings
	}
	reachChange struct {
		Versioned
		Body app.ReachSettings
	}
	outbreakAnswer struct {
		Body app.OutbreakList
	}
	messageAnswer struct {
		Body app.Message
	}
	messagePath struct {
		ID string `path:"id" maxLength:"64"`
	}
	pushKey struct {
		Body struct {
			Key string `json:"key" doc:"The public key to subscribe with; empty when web push is not set up."`
		}
	}
	pushOn struct {
		Body struct {
			Endpoint string `json:"endpoint" minLength:"1" maxLength:"1000" doc:"As the browser's subscription has it."`
			P256dh   string `json:"p256dh" minLength:"1" maxLength:"200"`
			Auth     string `json:"auth" minLength:"1" maxLength:"100"`
		}
	}
	pushOff struct {
		Body struct {
			Endpoint string `json:"endpoint" minLength:"1" maxLength:"1000"`
		}
	}
)

func (f Face) reach(api huma.API) {
	const tag = "reach"
	register(api, op("get-reach", http.MethodGet, "/api/reach", tag, "How the firm reaches people, and what it has sent"), f.getReach)
	register(api, op("set-reach", http.MethodPut, "/api/reach", tag, "Set the monthly budget of texts and the quiet hours"), f.setReach)
	register(api, op("list-outbreaks", http.MethodGet, "/api/outbreaks", tag, "The same sign on neighbouring farms, closer together than chance would put it"), f.listOutbreaks)
	register(api, op("send-again", http.MethodPost, "/api/messages/{id}/again", tag, "Send a message that was not sent"), f.sendAgain)
	register(api, op("get-push-key", http.MethodGet, "/api/push-key", tag, "The key with which a browser subscribes"), f.getPushKey)
	register(api, op("push-on", http.MethodPost, "/api/me/push", tag, "Tell this browser what concerns me"), f.pushOn)
	register(api, op("push-off", http.MethodPost, "/api/me/push/off", tag, "Tell this browser nothing more"), f.pushOff)
}

func (f Face) listOutbreaks(ctx context.Context, _ *struct{}) (*outbreakAnswer, error) {
	list, err := f.Outbreaks.List(ctx, actor(ctx))
	return &outbreakAnswer{list}, err
}

func settings(s app.Settings, err error) (*reachAnswer, error) {
	return &reachAnswer{etag(s.Version), s}, err
}

func (f Face) getReach(ctx context.Context, _ *struct{}) (*reachAnswer, error) {
	return settings(f.Reach.Settings(ctx, actor(ctx)))
}

func (f Face) setReach(ctx context.Context, in *reachChange) (*reachAnswer, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	in.Body.Version = v
	return settings(f.Reach.SetSettings(ctx, actor(ctx), in.Body))
}

func (f Face) sendAgain(ctx context.Context, in *messagePath) (*messageAnswer, error) {
	m, err := f.Reach.SendAgain(ctx, actor(ctx), in.ID)
	return &messageAnswer{m}, err
}

func (f Face) getPushKey(context.Context, *struct{}) (*pushKey, error) {
	out := &pushKey{}
	out.Body.Key = f.PushKey
	return out, nil
}

func (f Face) pushOn(ctx context.Context, in *pushOn) (*struct{}, error) {
	return nil, f.Reach.Subscribe(ctx, actor(ctx), app.Subscription{Endpoint: in.Body.Endpoint, P256dh: in.Body.P256dh, Auth: in.Body.Auth})
}

func (f Face) pushOff(ctx context.Context, in *pushOff) (*struct{}, error) {
	return nil, f.Reach.Unsubscribe(ctx, actor(ctx), in.Body.Endpoint)
}
