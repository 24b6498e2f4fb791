// Package sheet reads what was pasted or copied out of a supplier's sheet, line
// by line, and says what it understood of each line.
//
//	s := sheet.Read(text, sheet.Options{})
//	for _, l := range s.Lines {
//		fmt.Println(l.Number, l.Text, l.Understood()) // 7, "Linalool 4,2", "Linalool: 4.2 %; decimal comma; % by line 3"
//	}
//	for _, q := range s.Questions { ... } // what only the maker can answer
//	s.Write(&b, sheet.Material{Name: "alpine hay scent oil"}) // a document for her book
//
// Two kinds of table are read: the allergens of a scent or an oil, which are "of
// which" and have no sum, and a composition, which makes 100 %. A certificate's
// highest uses by category, the sheet's date and its reference are taken from the
// same text.
//
// The package keeps three promises.
//
//   - Nothing is dropped: every line with something on it is in Sheet.Lines and is
//     one thing only: a row, a use limit, a heading, a fact, a question, or words.
//   - Nothing is guessed in silence: what was changed to be understood (a decimal
//     comma, a unit taken from a heading, a name found by its number) is said
//     beside the line. What has two readings is a question with its cure.
//   - Nothing is read from the disk, no clock is asked, and every figure is exact.
//
// Noughts alone (0.000 %) are taken as up to one of their last digit, because sheets
// round and cut off, and what decides whether a name is printed is the greatest share.
//
// A question is answered by the sheet, not by this package: correct the text and
// read it again, or answer in Options, for one line or for all of them.
package sheet
