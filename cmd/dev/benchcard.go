package main

import "context"

// cardGroup is what ten pages of a card with maps take, of a plan of 30 legs on a sheet of 100
// megapixels that must be rectified, and the memory above that of the open plan.
func cardGroup() group {
	return group{
		figures: []figure{atMost("card_ten_pages", "s", 5), atMost("card_ten_pages_peak", "MB", 400)},
		do: func(ctx context.Context, m *measuring) {
			var got struct{ Seconds, MB float64 }
			m.testFigures(ctx, "./mapio/card", "TestTenPages", &got)
			m.put("card_ten_pages", got.Seconds)
			m.put("card_ten_pages_peak", got.MB)
		},
	}
}
