//go:build !(linux && amd64)

// Safe tries to make the program lose what it has said is saved; it runs on Linux on amd64.
package main

import (
	"fmt"
	"os"
)

func main() {
	fmt.Fprintln(os.Stderr, "safe: only Linux on amd64 lets a program be watched the way this needs")
	os.Exit(2)
}
