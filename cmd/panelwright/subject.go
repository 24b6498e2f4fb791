package main

import "os"

// subject takes the product, or another name that a verb is about, from in front of the book: "approve 'hay fizz'
// mybook", or alone where no file or folder is called so.
func (c *call) subject() string {
	if len(c.args) == 0 {
		return ""
	}
	if len(c.args) == 1 {
		if _, err := os.Stat(c.args[0]); err == nil {
			return ""
		}
	}
	s := c.args[0]
	c.args = c.args[1:]
	return s
}

// productSubject takes the product in front of the book, unless --product names it.
func (c *call) productSubject() {
	if c.product == "" {
		c.product = c.subject()
	}
}
