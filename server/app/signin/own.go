package signin

import (
	"context"

	"tendfold/domain"
	"tendfold/server/app"
)

// Own is how a person gets in, as they see it themselves.
type Own struct {
	Password bool   `json:"password"` // they have one
	CodeApp  bool   `json:"code_app"` // and a code app beside it
	Login    string `json:"login,omitempty"`
}

// Own says how the actor gets in.
func (s *Service) Own(ctx context.Context, who app.Actor) (Own, error) {
	pw, err := s.password(ctx, who.PersonID)
	if domain.KindOf(err) == domain.KindNotFound {
		return Own{}, nil
	}
	return Own{Password: err == nil, CodeApp: pw.TOTP != "", Login: pw.Login}, err
}
