package formula

// Key names a substance. This package treats it as opaque: two parts with the
// same Key are the same substance, and nothing else is asked of it. Package
// inci gives keys their meaning: the capitalised name of the ingredient
// glossary where there is one, the maker's own words otherwise.
type Key string
