package words

import "fmt"

// Wrong is what is wrong and what to do about it: the shape of every complaint,
// which each package adds its place to. Messages are lower case without a full
// stop; the cure is a plain sentence fragment of the same kind, empty if there
// is none.
type Wrong struct {
	Message string
	Cure    string
}

// Say makes a Wrong of a message.
func Say(format string, args ...any) Wrong {
	return Wrong{Message: fmt.Sprintf(format, args...)}
}

// With gives it a cure.
func (w Wrong) With(cure string) Wrong {
	w.Cure = cure
	return w
}

// Error makes a Wrong usable as an error; it leaves out the place.
func (w Wrong) Error() string {
	if w.Cure == "" {
		return w.Message
	}
	return w.Message + "; " + w.Cure
}
