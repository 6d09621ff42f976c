package schema

// Usual returns the usual size, in words, of a loss that counts as 0 until the
// weaver states it. It returns "" for other keys. The figures are rules of thumb.
func Usual(key string) string {
	switch key {
	case "take-up":
		// In print: take-up and shrinkage together. Silk: A. Wolfensberger, Theory of
		// Silk Weaving, 2nd ed. 1921, contraction of the warp in weaving.
		return "take-up and shrinkage together are often 10 to 15 %; for silk, take-up alone is 1 to 10 %"
	case "shrinkage warp":
		return "take-up and shrinkage together are often 10 to 15 %" // in print
	case "shrinkage weft":
		return "wash a sample to find out"
	case "weft take-up":
		return "about 10 % is usual" // in print
	case "draw-in":
		return "5 to 10 % is usual (a rule of thumb)"
	case "loom waste":
		return "50 to 90 cm (20 to 36 in) is usual" // in print
	}
	return ""
}
