//go:build js && !workbench

package main

// offerMore adds nothing: the practice page only plays.
func (e *engine) offerMore() {}
