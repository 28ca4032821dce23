package main

import (
	"crypto/sha256"
	"encoding/base64"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"github.com/evanw/esbuild/pkg/api"
)

// policy lets a page run its own script and style, start workers and worklets
// that it makes itself and compile its engine, and ask for nothing from anywhere.
// A worklet is a data URL: to a page that is opened as a file, browsers close its
// own blobs there.
const policy = "default-src 'none'; script-src 'sha256-%s' 'wasm-unsafe-eval' data:; style-src 'sha256-%s'; " +
	"worker-src blob:; media-src blob:; img-src blob:; base-uri 'none'; form-action 'none'"

// buildPage puts a page together, but for what it holds. It names by its hash what
// makes kits.
func buildPage(name string, maker []byte) ([]byte, error) {
	script, err := bundle(name)
	if err != nil {
		return nil, err
	}
	style, err := styles(name)
	if err != nil {
		return nil, err
	}
	shell, err := os.ReadFile(filepath.Join("js", name+".html"))
	if err != nil {
		return nil, err
	}
	script = strings.ReplaceAll(script, "</script", `<\/script`)
	return []byte(strings.NewReplacer(
		"{policy}", fmt.Sprintf(policy, hash(script), hash(style)),
		"{sources}", fmt.Sprintf("%x", sha256.Sum256(maker)),
		"{style}", style,
		"{script}", script,
	).Replace(string(shell))), nil
}

// hash returns what the policy knows a script or a style by.
func hash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return base64.StdEncoding.EncodeToString(sum[:])
}

// styles returns the style sheet of a page, with the one that both share.
func styles(name string) (string, error) {
	var all strings.Builder
	for _, file := range []string{"page.css", name + ".css"} {
		text, err := os.ReadFile(filepath.Join("js", file))
		if errors.Is(err, os.ErrNotExist) {
			continue
		}
		if err != nil {
			return "", err
		}
		all.Write(text)
	}
	result := api.Transform(all.String(), api.TransformOptions{
		Loader: api.LoaderCSS, MinifyWhitespace: true, MinifySyntax: true, Target: api.ES2022,
	})
	return strings.TrimSpace(string(result.Code)), failed(result.Errors)
}

// bundle makes one script of a module and all that it imports. Beside other
// modules it may import "bundled:NAME", another bundle as text, and
// "go:wasm_exec", which the toolchain brings with it.
func bundle(name string) (string, error) {
	result := api.Build(api.BuildOptions{
		EntryPoints:       []string{filepath.Join("js", name+".js")},
		Bundle:            true,
		Format:            api.FormatIIFE,
		Target:            api.ES2022,
		MinifyWhitespace:  true,
		MinifyIdentifiers: true,
		MinifySyntax:      true,
		LegalComments:     api.LegalCommentsNone,
		Charset:           api.CharsetASCII,
		Plugins:           []api.Plugin{imports()},
	})
	if err := failed(result.Errors); err != nil {
		return "", err
	}
	return string(result.OutputFiles[0].Contents), nil
}

// imports resolves what is no module.
func imports() api.Plugin {
	return api.Plugin{Name: "imports", Setup: func(build api.PluginBuild) {
		build.OnResolve(api.OnResolveOptions{Filter: `^(bundled|go):`}, func(args api.OnResolveArgs) (api.OnResolveResult, error) {
			return api.OnResolveResult{Path: args.Path, Namespace: "made"}, nil
		})
		build.OnLoad(api.OnLoadOptions{Filter: `^bundled:`, Namespace: "made"}, func(args api.OnLoadArgs) (api.OnLoadResult, error) {
			text, err := bundle(strings.TrimPrefix(args.Path, "bundled:"))
			return api.OnLoadResult{Contents: &text, Loader: api.LoaderText}, err
		})
		build.OnLoad(api.OnLoadOptions{Filter: `^go:wasm_exec$`, Namespace: "made"}, func(api.OnLoadArgs) (api.OnLoadResult, error) {
			text, err := wasmExec()
			return api.OnLoadResult{Contents: &text, Loader: api.LoaderJS}, err
		})
	}}
}

// wasmExec returns the script that comes with the toolchain and starts what it
// compiled.
func wasmExec() (string, error) {
	set, err := toolchain()
	if err != nil {
		return "", err
	}
	ask := exec.Command("go", "env", "GOROOT")
	ask.Env = append(os.Environ(), set)
	root, err := ask.Output()
	if err != nil {
		return "", fmt.Errorf("go env: %w", err)
	}
	text, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js"))
	return string(text), err
}

func failed(messages []api.Message) error {
	var all []error
	for _, m := range api.FormatMessages(messages, api.FormatMessagesOptions{}) {
		all = append(all, errors.New(strings.TrimSpace(m)))
	}
	return errors.Join(all...)
}
