// Generate builds what the pages are made of, into the folder built: the engine
// for each, compressed, and the pages themselves with their scripts and styles,
// which lack only what they hold. The same sources give the same bytes: the
// engine is built with the toolchain that go.mod names.
package main

import (
	"bytes"
	"compress/gzip"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

func main() {
	out := flag.String("o", "built", "the folder to write to")
	pages := flag.Bool("pages", false, "build the pages alone, without the engines")
	flag.Parse()
	if err := generate(*out, *pages); err != nil {
		fmt.Fprintln(os.Stderr, "generate:", err)
		os.Exit(1)
	}
}

// generate builds all, or the pages alone. It runs in the folder of package web.
func generate(out string, pagesAlone bool) error {
	if err := os.MkdirAll(out, 0o777); err != nil {
		return err
	}
	pinned, err := toolchain()
	if err != nil {
		return err
	}
	pages := []struct{ name, tags string }{{"practice", ""}, {"workbench", "workbench"}}
	engineFile := func(name string) string { return filepath.Join(out, name+".wasm.gz") }
	for _, page := range pages {
		if pagesAlone {
			break
		}
		engine, err := buildEngine(pinned, page.tags)
		if err != nil {
			return err
		}
		if err := os.WriteFile(engineFile(page.name), engine, 0o666); err != nil {
			return err
		}
	}
	// The workbench's engine is all that makes kits: its hash tells two programs apart.
	maker, err := os.ReadFile(engineFile("workbench"))
	if err != nil {
		return err
	}
	for _, page := range pages {
		html, err := buildPage(page.name, maker)
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(out, page.name+".html"), html, 0o666); err != nil {
			return err
		}
	}
	return nil
}

// toolchain returns the environment variable by which go builds with the
// toolchain that go.mod names.
func toolchain() (string, error) {
	version, err := exec.Command("go", "list", "-m", "-f", "{{.GoVersion}}").Output()
	if err != nil {
		return "", fmt.Errorf("go list: %w", err)
	}
	return "GOTOOLCHAIN=go" + strings.TrimSpace(string(version)), nil
}

// buildEngine compiles the engine and compresses it as DecompressionStream reads
// it.
func buildEngine(toolchain, tags string) ([]byte, error) {
	folder, err := os.MkdirTemp("", "engine")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	file := filepath.Join(folder, "engine.wasm")
	build := exec.Command("go", "build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w -buildid=", "-tags="+tags, "-o", file, "./engine")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOWASM=", "GOFLAGS=", toolchain)
	build.Stderr = os.Stderr
	if err := build.Run(); err != nil {
		return nil, fmt.Errorf("go build: %w", err)
	}
	code, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	var compressed bytes.Buffer
	w, err := gzip.NewWriterLevel(&compressed, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(code); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return compressed.Bytes(), nil
}
