package intake

// Phone reads one number as people write it in a country (ISO 3166): E.164,
// or the text as it stands. It is flagged where no numbering plan has it.
func Phone(text, country string) (number string, flagged bool) {
	p := parsePhone(text, country)
	return p.Text, p.Flag
}
