package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/alecthomas/kong"
	"github.com/goccy/go-yaml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/cmd/thirdwise/arguments"
)

func readme(t *testing.T) string {
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	require.NoError(t, err)
	return string(text)
}

// blocks returns what stands in the README between fences of a kind.
func blocks(t *testing.T, kind string) []string {
	var found []string
	for _, m := range regexp.MustCompile("(?ms)^```([a-z]*)\n(.*?)^```").FindAllStringSubmatch(readme(t), -1) {
		if m[1] == kind {
			found = append(found, m[2])
		}
	}
	return found
}

// What the README says comes of its exercise, its mistake and its command is what
// comes of them.
func TestTheReadmeShowsWhatThereIs(t *testing.T) {
	plain := blocks(t, "")
	five := fileWith(t, "porch-light.yaml", blocks(t, "yaml")[0])
	assert.True(t, strings.Contains(thirdwise("show", "--tab", five).stdout, plain[0]), "the tab")

	path := fileWith(t, "my-song.yaml", "title: My Song\nkey: C major\nchart: |\n  | C | Am7x | G |\n")
	assert.True(t, slices.Contains(plain, strings.ReplaceAll(thirdwise("check", path).stdout, path, "my-song.yaml")), "the mistake")

	command, printed, _ := strings.Cut(plain[len(plain)-1], "\n")
	assert.Equal(t, thirdwise(strings.Fields(command)[2:]...).stdout, printed)
}

// Every command in the README is one that the program takes.
func TestTheReadmesCommandsAreTaken(t *testing.T) {
	written := regexp.MustCompile("(?m)(?:^    |`|\")(?:parallel |\\$ |source <\\()?thirdwise ([a-z][^`\"\n#:;|)]*)").FindAllStringSubmatch(readme(t), -1)
	require.Greater(t, len(written), 20)
	for _, m := range written {
		words := quoted(strings.NewReplacer("{}/16", "1/16", "$SLURM_ARRAY_TASK_ID/16", "1/16").Replace(m[1]))
		if len(words) == 1 && words[0] != "man" || words[len(words)-1] == "COMMAND" || strings.Contains(m[1], "$((") {
			continue // the name of a command, and what the test of clusters runs
		}
		line, err := kong.New(&commands{}, kong.NoDefaultHelp(), audioFormats(), kong.WithHyphenPrefixedParameters(true), arguments.Readers())
		require.NoError(t, err)
		_, err = line.Parse(words)
		assert.NoError(t, err, m[1])
	}
}

// quoted splits a command line into words, as a shell does.
func quoted(text string) []string {
	words := regexp.MustCompile(`"[^"]*"|\S+`).FindAllString(text, -1)
	for i := range words {
		words[i] = strings.Trim(words[i], `"`)
	}
	return words
}

// The README's tables have every setting that an exercise can have, and every option of
// render and neck.
func TestTheReadmeNamesEverySettingAndOption(t *testing.T) {
	text := readme(t)
	unknown := thirdwiseWith("title: A\nkey: C\nchart: \"| C |\"\nzzzzzzzz: 1\nline: {zzzzzzzz: 1}\nguitar: {zzzzzzzz: 1}\n", "check", "-")
	lists := regexp.MustCompile(`the settings here are (.*)`).FindAllStringSubmatch(unknown.stdout, -1)
	require.NotEmpty(t, lists, unknown.stdout)
	for _, list := range lists {
		for setting := range strings.FieldsFuncSeq(list[1], func(r rune) bool { return strings.ContainsRune(", \n", r) }) {
			assert.True(t, regexp.MustCompile("`(line: |guitar: )?"+setting+"[`:]").MatchString(text), setting)
		}
	}
	for _, command := range []any{renderCommand{}, neckCommand{}} {
		of := reflect.TypeOf(command)
		for i := range of.NumField() {
			field := of.Field(i)
			if _, positional := field.Tag.Lookup("arg"); positional || !field.IsExported() {
				continue
			}
			name := field.Tag.Get("name")
			if name == "" {
				name = strings.ToLower(regexp.MustCompile(`(.)([A-Z])`).ReplaceAllString(field.Name, "$1-$2"))
			}
			assert.True(t, strings.Contains(text, "`--"+name), "the option %s", name)
		}
	}
}

// The examples for clusters are ones that a shell and a cluster can read. The names
// that a job system gives its runs are those of its documentation: Slurm's job arrays
// (SLURM_ARRAY_TASK_ID), Kubernetes' indexed jobs (JOB_COMPLETION_INDEX); from memory.
func TestTheReadmesExamplesForClustersCanBeRead(t *testing.T) {
	text := readme(t)
	for _, name := range []string{"--array=1-16", "$SLURM_ARRAY_TASK_ID/16", "$((JOB_COMPLETION_INDEX + 1))/16", "completionMode: Indexed"} {
		assert.True(t, strings.Contains(text, name), name)
	}
	var job struct {
		APIVersion string `yaml:"apiVersion"`
		Kind       string
		Spec       struct {
			CompletionMode string `yaml:"completionMode"`
			Completions    int
			Template       struct {
				Spec struct {
					RestartPolicy string `yaml:"restartPolicy"`
					Containers    []struct {
						Image   string
						Command []string
					}
				}
			}
		}
	}
	require.NoError(t, yaml.Unmarshal([]byte(blocks(t, "yaml")[1]), &job))
	assert.Equal(t, []any{"batch/v1", "Job", "Indexed", 16}, []any{job.APIVersion, job.Kind, job.Spec.CompletionMode, job.Spec.Completions})
	command := job.Spec.Template.Spec.Containers[0].Command
	require.Equal(t, []string{"sh", "-c"}, command[:2])

	shell, err := exec.LookPath("bash")
	if err != nil {
		t.Skip("no shell here to read them")
	}
	// Index 2 of sixteen runs, counted from 0, is the third share.
	ran := exec.Command(shell, "-c", strings.Replace(command[2], "thirdwise", "echo", 1))
	ran.Env = append(os.Environ(), "JOB_COMPLETION_INDEX=2")
	out, err := ran.Output()
	require.NoError(t, err)
	assert.Contains(t, string(out), "--shard 3/16 ")
	for _, line := range regexp.MustCompile(`(?m)^    (parallel|thirdwise) .*$`).FindAllString(text, -1) {
		read := exec.Command(shell, "-n", "-c", strings.TrimSpace(line))
		out, err := read.CombinedOutput()
		assert.NoError(t, err, "%s\n%s", line, out)
	}
}
