package schema

// Grist is how thick a yarn is.
type Grist struct {
	Tex  float64 // grams in a kilometre of the whole, plied yarn; 0 unknown
	Text string  // as the weaver wrote it
}
