//go:build !unix

package lineedit

// asItStands asks for nothing where there is nothing to ask for.
const asItStands = 0
