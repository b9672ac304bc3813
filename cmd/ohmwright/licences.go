package main

import (
	"flag"

	"ohmwright/site"
)

// licences prints the licences of all that is shipped.
func (c caller) licences(args []string) int {
	words, status, ok := c.flags(flag.NewFlagSet("licences", flag.ContinueOnError), usage(), args)
	if !ok {
		return status
	}
	if len(words) > 0 {
		return c.fail("licences: %q given; want nothing", words[0])
	}
	return c.print(site.Licences())
}
