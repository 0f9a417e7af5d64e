package shop

// MayKeepPhoto refuses who may not keep a photograph: whoever may report may show
// what they report.
func (s *State) MayKeepPhoto(person string) error { return s.may(person, taskKeepPhoto) }
