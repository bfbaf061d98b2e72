package calendar

// feast is one of the days that hang on the sighting of the moon.
type feast int

const (
	birth feast = iota // 12 Rabi al-awwal: the Prophet's birthday
	fitr               // 1 Shawwal: the end of Ramadan
	adha               // 10 Dhu al-hijja: the feast of sacrifice
)

// sighted is a holiday so many days after a feast. Its day is predicted: what
// is announced in a country may be a day or two away.
func sighted(key, en, fr string, f feast, offset int) rule {
	return rule{key: key, name: Name{en, fr}, sighted: true, days: func(year int) []Date {
		var out []Date
		for _, lunar := range predicted {
			if d := lunar[f]; d.Year() == year {
				out = append(out, d.Add(offset))
			}
		}
		return out
	}}
}

// PredictedTo is the last year for which the sighted days are predicted.
// After it, and before 2020, a table has none of them.
const PredictedTo = 2050

// predicted is birth, fitr and adha of the lunar years 1441 to 1472, and birth
// of 1473, by the Umm al-Qura calendar of Saudi Arabia, as the Unicode ICU
// library 78.2 has it. A lunar year has 354 or 355 days, so that now and then
// a feast comes twice in a civil year (the end of Ramadan in 2033).
var predicted = [][3]Date{
	{NewDate(2019, 11, 9), NewDate(2020, 5, 24), NewDate(2020, 7, 31)},
	{NewDate(2020, 10, 29), NewDate(2021, 5, 13), NewDate(2021, 7, 20)},
	{NewDate(2021, 10, 18), NewDate(2022, 5, 2), NewDate(2022, 7, 9)},
	{NewDate(2022, 10, 8), NewDate(2023, 4, 21), NewDate(2023, 6, 28)},
	{NewDate(2023, 9, 27), NewDate(2024, 4, 10), NewDate(2024, 6, 16)},
	{NewDate(2024, 9, 15), NewDate(2025, 3, 30), NewDate(2025, 6, 6)},
	{NewDate(2025, 9, 4), NewDate(2026, 3, 20), NewDate(2026, 5, 27)},
	{NewDate(2026, 8, 25), NewDate(2027, 3, 9), NewDate(2027, 5, 16)},
	{NewDate(2027, 8, 14), NewDate(2028, 2, 26), NewDate(2028, 5, 5)},
	{NewDate(2028, 8, 3), NewDate(2029, 2, 14), NewDate(2029, 4, 24)},
	{NewDate(2029, 7, 24), NewDate(2030, 2, 4), NewDate(2030, 4, 13)},
	{NewDate(2030, 7, 13), NewDate(2031, 1, 24), NewDate(2031, 4, 2)},
	{NewDate(2031, 7, 2), NewDate(2032, 1, 14), NewDate(2032, 3, 22)},
	{NewDate(2032, 6, 20), NewDate(2033, 1, 3), NewDate(2033, 3, 12)},
	{NewDate(2033, 6, 10), NewDate(2033, 12, 23), NewDate(2034, 3, 1)},
	{NewDate(2034, 5, 30), NewDate(2034, 12, 12), NewDate(2035, 2, 19)},
	{NewDate(2035, 5, 20), NewDate(2035, 12, 1), NewDate(2036, 2, 8)},
	{NewDate(2036, 5, 9), NewDate(2036, 11, 19), NewDate(2037, 1, 27)},
	{NewDate(2037, 4, 28), NewDate(2037, 11, 9), NewDate(2038, 1, 16)},
	{NewDate(2038, 4, 17), NewDate(2038, 10, 29), NewDate(2039, 1, 5)},
	{NewDate(2039, 4, 6), NewDate(2039, 10, 19), NewDate(2039, 12, 26)},
	{NewDate(2040, 3, 25), NewDate(2040, 10, 7), NewDate(2040, 12, 15)},
	{NewDate(2041, 3, 15), NewDate(2041, 9, 27), NewDate(2041, 12, 4)},
	{NewDate(2042, 3, 5), NewDate(2042, 9, 16), NewDate(2042, 11, 23)},
	{NewDate(2043, 2, 22), NewDate(2043, 9, 5), NewDate(2043, 11, 12)},
	{NewDate(2044, 2, 12), NewDate(2044, 8, 24), NewDate(2044, 11, 1)},
	{NewDate(2045, 1, 31), NewDate(2045, 8, 14), NewDate(2045, 10, 21)},
	{NewDate(2046, 1, 20), NewDate(2046, 8, 4), NewDate(2046, 10, 11)},
	{NewDate(2047, 1, 9), NewDate(2047, 7, 24), NewDate(2047, 9, 30)},
	{NewDate(2047, 12, 29), NewDate(2048, 7, 13), NewDate(2048, 9, 19)},
	{NewDate(2048, 12, 18), NewDate(2049, 7, 2), NewDate(2049, 9, 8)},
	{NewDate(2049, 12, 8), NewDate(2050, 6, 21), NewDate(2050, 8, 28)},
	{NewDate(2050, 11, 27)},
}
