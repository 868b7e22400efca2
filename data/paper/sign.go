package paper

import "skegworth/valuation/say"

// signedHigh is the room that signatures take.
const signedHigh = 28.0

// signatures leaves room for two people to sign, each with a name and a day.
func (s *sheet) signatures(first, second say.Sentence, firstName, secondName string) {
	s.again = nil
	width := (s.width() - 3*gap) / 2
	s.need(signedHigh)
	s.space(3)
	for i, who := range []struct {
		is   say.Sentence
		name string
	}{{first, firstName}, {second, secondName}} {
		x := side + float64(i)*(width+3*gap)
		s.write(x, s.y, width, capital(s.say(who.is)), boldText, left)
		s.write(x, s.y+boldText.leading(), width, clipped(who.name, 80), plainText, left)
		s.blank(x, s.y+19, width*0.62, s.say(say.New("page.signature", "Signature")))
		s.blank(x+width*0.68, s.y+19, width*0.32, s.say(say.New("page.day", "Day")))
	}
	s.y += 24
}
