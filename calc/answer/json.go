package answer

import (
	"bytes"
	"encoding/json"
)

// marshal is json.Marshal that leaves <, > and & as they are.
func marshal(x any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(x)
	return b.Bytes(), err
}
