//go:build js && workbench

package main

func (e *engine) offerMore() {}
