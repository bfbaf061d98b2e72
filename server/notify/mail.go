package notify

import (
	"context"
	"errors"

	"tendfold/domain"
	"tendfold/server/app"

	"github.com/wneessen/go-mail"
)

// MailConfig is the server that takes e-mail. TLS is required unless Plain
// says otherwise, for a relay on the same host.
type MailConfig struct {
	Host     string
	Port     int
	User     string
	Password string
	From     string
	Plain    bool
}

type mailer struct {
	cfg    MailConfig
	client *mail.Client
}

func newMailer(c MailConfig) (*mailer, error) {
	if err := mail.NewMsg().From(c.From); err != nil {
		return nil, domain.Invalid("mail-from", "The address from which e-mails come is none.")
	}
	opts := []mail.Option{mail.WithTimeout(timeout), mail.WithTLSPortPolicy(mail.TLSMandatory)}
	if c.Plain {
		opts = append(opts, mail.WithTLSPortPolicy(mail.NoTLS))
	}
	if c.Port != 0 {
		opts = append(opts, mail.WithPort(c.Port))
	}
	if c.User != "" {
		if c.Plain {
			return nil, domain.Invalid("mail-plain", "A password is sent over TLS only: leave either it or the plain connection out.")
		}
		opts = append(opts, mail.WithSMTPAuth(mail.SMTPAuthAutoDiscover), mail.WithUsername(c.User), mail.WithPassword(c.Password))
	}
	client, err := mail.NewClient(c.Host, opts...)
	if err != nil {
		return nil, domain.Invalid("mail-server", "The e-mail server's name or port cannot be.")
	}
	return &mailer{c, client}, nil
}

func (m *mailer) send(ctx context.Context, msg app.Message) error {
	out := mail.NewMsg()
	if err := errors.Join(out.From(m.cfg.From), out.To(msg.Address)); err != nil {
		return never("mail-address", "The e-mail address cannot be.")
	}
	out.Subject(msg.Subject)
	out.SetBodyString(mail.TypeTextPlain, msg.Body)
	out.SetMessageIDWithValue(msg.ID + "@tendfold") // a repeated one is known by its id
	out.SetGenHeader("Auto-Submitted", "auto-generated")
	err := m.client.DialAndSendWithContext(ctx, out)
	var refused *mail.SendError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &refused) && permanent(refused):
		return never("mail-refused", "The e-mail server refused the address or the message.")
	}
	return later("mail-unreachable", "The e-mail server does not answer or is busy; it is tried again.")
}

// permanent says whether the server itself said no for good (RFC 5321 4.2.1:
// 5yz).
func permanent(e *mail.SendError) bool { return e.ErrorCode() >= 500 }
