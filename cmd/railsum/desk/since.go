package desk

import "railsum/calc/answer"

// since shows what has changed since the notebook was opened or saved.
func (d *desk) since(when string) error {
	var c *answer.Comparison
	switch when {
	case "opened":
		c = d.s.SinceOpened()
	case "saved":
		c = d.s.SinceSaved()
	default:
		return misuse("since")
	}
	if c == nil {
		d.note("Stopped.")
		return nil
	}
	return d.paged(func() error {
		d.out.Comparison("what was "+when, d.name(), c)
		return nil
	})
}
