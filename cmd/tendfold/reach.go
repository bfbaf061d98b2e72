package main

import (
	"fmt"

	"tendfold/server"
	"tendfold/server/notify"
)

// reachFlags are what leaves the house and what gateways hand in. Secrets
// belong in the environment: a command line is seen by others on the host.
type reachFlags struct {
	TextURL     string   `help:"Address of the HTTP gateway that sends text messages; none are sent when left out." name:"text-url" placeholder:"URL"`
	TextHeaders []string `help:"Headers for it, such as an Authorization." name:"text-headers" sep:"|" placeholder:"NAME: VALUE"`
	TextBody    string   `help:"What it is sent; {to}, {text} and {id} are filled in." name:"text-body"`
	TextType    string   `help:"How that is written: application/json or application/x-www-form-urlencoded." name:"text-type" default:"application/json"`
	TextIDField string   `help:"Where its answer has its own id of the message." name:"text-id-field" default:"id"`
	TextSecrets []string `help:"Secrets with which gateways sign what they hand in; nothing is taken when left out." name:"text-secrets"`
	TextFields  []string `help:"What they call id, from, text and state." name:"text-fields" placeholder:"OURS=THEIRS"`

	MailHost     string `help:"Server that sends e-mail; none is sent when left out." placeholder:"HOST"`
	MailPort     int    `help:"Its port; 587 when left out."`
	MailUser     string `help:"Whom it knows us as."`
	MailPassword string `help:"And by which password."`
	MailFrom     string `help:"From whom e-mails come." placeholder:"ADDRESS"`
	MailPlain    bool   `help:"Speak to it without TLS: only for a relay on this host."`

	PushKey     string `help:"Private key of web push, from tendfold push-keys; nothing is pushed when left out."`
	PushPublic  string `help:"Its public key."`
	PushContact string `help:"E-mail address that browsers' services may write to." placeholder:"ADDRESS"`
}

func (f reachFlags) into(c server.Config) server.Config {
	c.Notify = notify.Config{
		Text: notify.TextConfig{URL: f.TextURL, Headers: f.TextHeaders, Body: f.TextBody, Type: f.TextType, IDField: f.TextIDField},
		Mail: notify.MailConfig{Host: f.MailHost, Port: f.MailPort, User: f.MailUser, Password: f.MailPassword, From: f.MailFrom, Plain: f.MailPlain},
		Push: notify.PushConfig{PrivateKey: f.PushKey, PublicKey: f.PushPublic, Contact: f.PushContact},
		Hook: notify.HookConfig{Secrets: f.TextSecrets, Fields: f.TextFields},
	}
	return c
}

type pushKeysCmd struct{}

// Run makes a key pair for web push.
func (c *pushKeysCmd) Run(std streams) error {
	private, public, err := notify.PushKeys()
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(std.Out, "TENDFOLD_PUSH_KEY=%s\nTENDFOLD_PUSH_PUBLIC=%s\n", private, public)
	return err
}
