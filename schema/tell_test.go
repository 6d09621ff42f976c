package schema

import "testing"

func TestTelling(t *testing.T) {
	inches := func(in float64) Length { return Length(in * 25.4) }
	for _, row := range []struct{ name, got, want string }{
		{"cloth/mm", Metric.Cloth(4.44), "4.4 mm"},
		{"cloth/cm", Metric.Cloth(30), "3 cm"},
		{"cloth/cm to the millimetre", Metric.Cloth(476.25), "47.6 cm"},
		{"cloth/narrower", Metric.Cloth(-14.9), "-1.5 cm"},
		{"cloth/m", Metric.Cloth(3304), "3.3 m"},
		{"cloth/part of an inch", Imperial.Cloth(inches(0.4)), "0.4 in"},
		{"cloth/3 cm in inches", Imperial.Cloth(30), "1.2 in"},
		{"cloth/quarters of an inch", Imperial.Cloth(inches(18.25)), "18.25 in"},
		{"cloth/inches", Imperial.Cloth(inches(18.36)), "18.4 in"},
		{"cloth/yards", Imperial.Cloth(inches(126)), "3.5 yd"},
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
		{"yarn/short is the difference of the two", Metric.YarnShort(1200, 666.67), "534 m"},
		{"yarn/yards", Imperial.YarnNeeded(100.1 * 0.9144), "101 yd"},
		{"yarn/yards there", Imperial.YarnThere(100.9 * 0.9144), "100 yd"},
		{"yarn/yards short", Imperial.YarnShort(100.1*0.9144, 10.9*0.9144), "91 yd"},
		{"shorter/cm", Metric.RoundedUp(73), "8 cm"},
		{"shorter/whole", Metric.RoundedUp(80), "8 cm"},
		{"shorter/half inches", Imperial.RoundedUp(inches(3.1)), "3.5 in"},
		{"shorter/far", Metric.RoundedUp(4003), "4.01 m"},
	} {
		if row.got != row.want {
			t.Errorf("%s: %q, want %q", row.name, row.got, row.want)
		}
	}
}
