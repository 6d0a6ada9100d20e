// Package lettering sets one line of text in one colour, for everything that
// is drawn as a picture: dial, ledger, foot line, overlay, and the words below
// a rectified map. It breaks a text into lines where it is asked to, and knows no
// widgets.
//
// A line is shaped once: HarfBuzz's rules, as go-text has them, join Arabic
// letters, put marks over their letters and kern; what is written from right to
// left takes the order in which it is seen. A [Line] has no size, so that one
// serves every size and angle. A [Setter] keeps the lines and the drawn letters
// that were wanted last. It sets B612 and takes the letters that B612 lacks from
// DejaVu Sans; a letter that neither has stands as its code point in brackets,
// such as [65E5], so that two names never look the same. Widgets that set their texts
// themselves write it the same way, by [Shown].
package lettering
