package schema

// Usual returns the usual size of a project value that counts as 0 while nobody
// states it, in words for a weaver. It returns "" for other keys. The figures are
// rules of thumb.
func Usual(key string) string {
	switch key {
	case "take-up":
		// In print: take-up and shrinkage together. Silk: A. Wolfensberger, Theory of
		// Silk Weaving, 2nd ed. 1921, contraction of the warp in weaving.
		return "with shrinkage it often comes to 10 to 15 %; silk takes up 1 to 10 %"
	case "shrinkage warp":
		return "with take-up it often comes to 10 to 15 %" // in print
	case "shrinkage weft":
		return "a washed sample tells"
	case "weft take-up":
		return "about 10 % is usual" // in print
	case "draw-in":
		return "5 to 10 % is common practice, no source"
	case "loom waste":
		return "50 to 90 cm (20 to 36 in) is usual" // in print
	}
	return ""
}
