// Package plainlocale keeps the standard error clean where the language is set
// to "C.UTF-8", as it is in many containers. The window library takes the "C"
// in it for a language while its packages are initialised, and prints a fault
// before main begins, in headless runs too. Plain "C" it understands.
//
// The change must come before that package is initialised. Since Go 1.21
// packages are initialised in the order of their paths as soon as what they
// import is: this one imports only os, the other reaches text/template, whose
// path comes later. The test looks at what the built program prints.
package plainlocale

import "os"

// Changed names the variable of the environment that was made plain, or is
// empty.
var Changed = makePlain(os.Getenv, os.Setenv)

// makePlain sets the variable that decides the language to "C" where it says
// "C" with a character set.
func makePlain(get func(string) string, set func(string, string) error) string {
	for _, name := range [...]string{"LC_ALL", "LC_MESSAGES", "LANG"} {
		v := get(name)
		if v == "" {
			continue
		}
		if len(v) > 2 && v[:2] == "C." && set(name, "C") == nil {
			return name
		}
		return ""
	}
	return ""
}
