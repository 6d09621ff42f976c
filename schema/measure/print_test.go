package measure

import (
	"slices"
	"strings"
	"testing"
)

func TestPrint(t *testing.T) {
	inches := func(in float64) Length { return Length(in * 25.4) }
	for _, row := range []struct{ name, got, want string }{
		{"cloth/mm", Metric.Cloth(4.44), "4 mm"},
		{"cloth/half a millimetre", Metric.Cloth(12.5), "1.3 cm"},
		{"cloth/metres to the millimetre", Metric.Cloth(3478.4), "3.478 m"},
		{"cloth/yards to an eighth", Imperial.Cloth(inches(137.13)), "3 yd 29 1/8 in (137 1/8 in)"},
		{"half/centimetres", Metric.Half(476.25), "23.8 cm"},
		{"half/half a millimetre", Metric.Half(477.25), "23.85 cm"},
		{"half/millimetres", Metric.Half(5), "2.5 mm"},
		{"half/sixteenths", Imperial.Half(inches(21.6)), "10 13/16 in"},
		{"warp/from a yard", Imperial.Warp(inches(100.1)), "2 yd 28 1/4 in (100 1/4 in)"},
		{"warp/under a yard", Imperial.Warp(inches(30)), "30 in"},
		{"warp/yards", Imperial.Warp(inches(214.48)), "5 yd 34 1/2 in (214 1/2 in)"},
		{"warp/whole yards", Imperial.Warp(inches(72)), "2 yd (72 in)"},
		{"warp/metres", Metric.Warp(5221), "5.23 m"},
		{"warp/whole centimetres", Metric.Warp(5230.0000000001), "5.23 m"},
		{"warp/centimetres", Metric.Warp(1804), "181 cm"},
		{"warp/in a row", Imperial.WarpInRow(inches(214.48)), "214 1/2 in"},
		{"warp/in a row, metric", Metric.WarpInRow(5221), "5.23 m"},
		{"cloth/cm", Metric.Cloth(30), "3 cm"},
		{"cloth/cm to the millimetre", Metric.Cloth(476.25), "47.6 cm"},
		{"cloth/narrower", Metric.Cloth(-14.9), "-1.5 cm"},
		{"cloth/m", Metric.Cloth(3304), "3.304 m"},
		{"cloth/part of an inch", Imperial.Cloth(inches(0.4)), "3/8 in"},
		{"cloth/3 cm in inches", Imperial.Cloth(30), "1 1/8 in"},
		{"cloth/quarters of an inch", Imperial.Cloth(inches(18.25)), "18 1/4 in"},
		{"cloth/inches", Imperial.Cloth(inches(18.36)), "18 3/8 in"},
		{"cloth/yards", Imperial.Cloth(inches(126)), "3 yd 18 in (126 in)"},
		{"cloth/yards and a fraction", Imperial.Cloth(inches(214.48)), "5 yd 34 1/2 in (214 1/2 in)"},
		{"cloth/whole yards", Imperial.Cloth(inches(1080)), "30 yd (1080 in)"},
		{"cloth/up to the next yard", Imperial.Cloth(inches(215.97)), "6 yd (216 in)"},
		{"cloth/narrower by yards", Imperial.Cloth(inches(-126)), "-3 yd 18 in (-126 in)"},
		{"length/yards", Imperial.Length(inches(214.5)), "5 yd 34 1/2 in (214 1/2 in)"},
		{"typed/inches", Imperial.Typed(inches(30.3125)), "30 5/16 in"},
		{"typed/decimals of an inch", Imperial.Typed(inches(30.317)), "30.317 in"},
		{"typed/centimetres", Metric.Typed(786.5), "78.65 cm"},
		{"sett/inches", Imperial.Sett(18.01 / 2.54), "18/in"},
		{"sett/half an end", Imperial.Sett(12.5 / 2.54), "12.5/in"},
		{"sett/very open", Imperial.Sett(0.25 / 2.54), "0.25/in"},
		{"sett/centimetres", Metric.Sett(20 / 2.54), "7.87/cm"},
		{"rough/inches", Imperial.RoughSett(26.41 / 2.54), "26/in"},
		{"rough/open, in inches", Imperial.RoughSett(6.25 / 2.54), "6.2/in"},
		{"rough/centimetres", Metric.RoughSett(10.188), "10.2/cm"},
		{"rough/open", Metric.RoughSett(0.66), "0.66/cm"},
		{"yarn/needed", Metric.YarnNeeded(3698.2), "3699 m"},
		{"yarn/needed, whole", Metric.YarnNeeded(1200.0000000001), "1200 m"},
		{"yarn/there", Metric.YarnThere(666.67), "666 m"},
		{"yarn/there, whole", Metric.YarnThere(999.9999999999), "1000 m"},
		{"yarn/short is the difference of the two", Metric.YarnShort(666.67, 1200), "534 m"},
		{"yarn/yards", Imperial.YarnNeeded(100.1 * 0.9144), "101 yd"},
		{"yarn/yards there", Imperial.YarnThere(100.9 * 0.9144), "100 yd"},
		{"yarn/yards short", Imperial.YarnShort(10.9*0.9144, 100.1*0.9144), "91 yd"},
		{"shorter/cm", Metric.RoundedUp(73), "8 cm"},
		{"shorter/whole", Metric.RoundedUp(80), "8 cm"},
		{"shorter/half inches", Imperial.RoundedUp(inches(3.1)), "3 1/2 in"},
		{"shorter/far", Metric.RoundedUp(4003), "4.01 m"},
	} {
		if row.got != row.want {
			t.Errorf("%s: %q, want %q", row.name, row.got, row.want)
		}
	}
}

// A column has one unit and the same number of decimals throughout.
func TestPrintColumns(t *testing.T) {
	lengths := func(unit float64, list ...float64) []Length {
		out := make([]Length, len(list))
		for i, v := range list {
			out[i] = Length(v * unit)
		}
		return out
	}
	for _, row := range []struct {
		name      string
		got, want []string
	}{
		{"none", Metric.Cloths(nil), []string{}},
		{"whole centimetres", Metric.Cloths(lengths(10, 3, 240, 552.01)), []string{"3 cm", "240 cm", "552 cm"}},
		{"one decimal", Metric.Cloths(lengths(10, 162, 165.2, 290.8, 552)), []string{"162.0 cm", "165.2 cm", "290.8 cm", "552.0 cm"}},
		{"far", Metric.Cloths(lengths(10, 65.2, 1000)), []string{"65.2 cm", "1000.0 cm"}},
		{"inches", Imperial.Cloths(lengths(25.4, 8, 78.81, 144)), []string{"8 in", "78 3/4 in", "144 in"}},
		{"whole inches", Imperial.Cloths(lengths(25.4, 8, 144)), []string{"8 in", "144 in"}},
		{"quarters of an inch", Imperial.Cloths(lengths(25.4, 8.25, 144)), []string{"8 1/4 in", "144 in"}},
		{"yards", Imperial.Cloths(lengths(914.4, 0.5, 12.25)), []string{"18 in", "441 in"}},
	} {
		if !slices.Equal(row.got, row.want) {
			t.Errorf("%s: %q, want %q", row.name, row.got, row.want)
		}
	}
}

// A length alone and a length in a column are rounded alike, also halfway between marks.
func TestOneRounding(t *testing.T) {
	for _, u := range []Units{Metric, Imperial} {
		for sixteenths := range 40 {
			for _, l := range []Length{Length(sixteenths) * Inch / 16, Length(sixteenths) * 2.54, 10 + Length(sixteenths)/2} {
				alone, column := u.Cloth(l), u.Cloths([]Length{l})[0]
				if alone = strings.TrimSuffix(alone, ".0 cm"); strings.HasSuffix(alone, " mm") {
					continue
				}
				if alone != column && alone+".0 cm" != column {
					t.Errorf("%v mm: %s alone, %s in a column", float64(l), alone, column)
				}
			}
		}
	}
}

// Each value is rounded up first, so 1.2 and 1.2 add up to 4, not 3.
func TestColumnsAddUp(t *testing.T) {
	pounds := Imperial.InPounds()
	const lb, oz = 453.59237, 453.59237 / 16
	for _, row := range []struct{ name, got, want string }{
		{"grams", Metric.Weights(180).Sum(179.1), "180 g"},
		{"grams, two", Metric.Weights(3).Sum(1.2, 1.2), "4 g"},
		{"grams, with lengths in inches", Imperial.Weights(180).Sum(179.1), "180 g"},
		{"ounces", pounds.Weights(16 * oz).Sum(2.41 * oz), "2.5 oz"},
		{"whole ounces", pounds.Weights(16 * oz).Sum(2 * oz), "2.0 oz"},
		{"pounds from two up", pounds.Weights(2 * lb).Sum(2.001 * lb), "2.01 lb"},
		{"pounds, two", pounds.Weights(2*lb).Sum(2.001*lb, 0.001*lb), "2.02 lb"},
		{"metres", Metric.YarnNeeded(1.2, 1.2), "4 m"},
		{"yards", Imperial.YarnNeeded(1.2*0.9144, 1.2*0.9144), "4 yd"},
		{"metres short", Metric.YarnShort(1.9, 1.2, 1.2), "3 m"},
	} {
		if row.got != row.want {
			t.Errorf("%s: %q, want %q", row.name, row.got, row.want)
		}
	}
}
