package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// jobSchema is the published schema of a Kubernetes Job; testdata/kubernetes says where
// it is from.
type jobSchema struct {
	Ref         string `json:"$ref"`
	Type        string
	Format      string
	Description string // kept where it lists the values of a word
	Properties  map[string]jobSchema
	More        *jobSchema `json:"additionalProperties"`
	Items       *jobSchema
	Required    []string
	AllOf       []jobSchema
	OneOf       []jobSchema
}

type jobSchemas map[string]jobSchema

func readJobSchemas(t *testing.T) jobSchemas {
	t.Helper()
	b, err := os.ReadFile("testdata/kubernetes/job.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	var doc struct{ Components struct{ Schemas jobSchemas } }
	if err := json.Unmarshal(b, &doc); err != nil {
		t.Fatal(err)
	}
	return doc.Components.Schemas
}

// check lists what of a value the schema does not allow; at is its place.
func (all jobSchemas) check(s *jobSchema, v any, at string) (faults []string) {
	fault := func(format string, args ...any) {
		faults = append(faults, at+": "+fmt.Sprintf(format, args...))
	}
	if s.Ref != "" {
		name := strings.TrimPrefix(s.Ref, "#/components/schemas/")
		to, ok := all[name]
		if !ok {
			fault("no schema %s", name)
			return faults
		}
		return all.check(&to, v, at)
	}
	for i := range s.AllOf {
		faults = append(faults, all.check(&s.AllOf[i], v, at)...)
	}
	if len(s.OneOf) > 0 {
		fit := func(o jobSchema) bool { return len(all.check(&o, v, at)) == 0 }
		if !slices.ContainsFunc(s.OneOf, fit) {
			fault("%v is of none of the types wanted", v)
		}
	}
	switch s.Type {
	case "object":
		fields, ok := v.(map[string]any)
		if !ok {
			fault("%v is no object", v)
			break
		}
		for _, name := range s.Required {
			if _, ok := fields[name]; !ok {
				fault("no %s", name)
			}
		}
		for _, name := range slices.Sorted(maps.Keys(fields)) {
			of, known := s.Properties[name]
			switch {
			case known:
				faults = append(faults, all.check(&of, fields[name], at+"."+name)...)
			case s.More != nil:
				faults = append(faults, all.check(s.More, fields[name], at+"."+name)...)
			default:
				fault("no field %s is known", name)
			}
		}
	case "array":
		list, ok := v.([]any)
		if !ok {
			fault("%v is no list", v)
		}
		for i, x := range list {
			faults = append(faults, all.check(s.Items, x, fmt.Sprintf("%s[%d]", at, i))...)
		}
	case "string":
		text, ok := v.(string)
		if !ok {
			fault("%v is no text", v)
		} else if s.Description != "" && !regexp.MustCompile(`\b`+regexp.QuoteMeta(text)+`\b`).
			MatchString(s.Description) {
			fault("%q is no value that is listed", text)
		}
	case "boolean":
		if _, ok := v.(bool); !ok {
			fault("%v is not true or false", v)
		}
	case "integer", "number":
		n, ok := v.(float64)
		if !ok || s.Type == "integer" && n != math.Trunc(n) || s.Format == "int32" && math.Abs(n) > math.MaxInt32 {
			fault("%v is no %s %s", v, s.Type, s.Format)
		}
	case "":
	default:
		fault("type %s is not checked", s.Type)
	}
	return faults
}

func readJob(t *testing.T, text []byte) any {
	t.Helper()
	var job any
	if err := json.Unmarshal(text, &job); err != nil {
		t.Fatal(err)
	}
	return job
}

// The Job is one that the published API takes, field by field; what is wrong in it is found.
func TestJobKeepsTheSchema(t *testing.T) {
	all := readJobSchemas(t)
	b, err := os.ReadFile("../../configs/sweep-job.json")
	if err != nil {
		t.Fatal(err)
	}
	of := &jobSchema{Ref: "#/components/schemas/io.k8s.api.batch.v1.Job"}
	for _, f := range all.check(of, readJob(t, b), "job") {
		t.Error(f)
	}
	for _, c := range []struct{ from, to, want string }{
		{`"backoffLimitPerIndex"`, `"backoffLimitPerShard"`, "no field backoffLimitPerShard is known"},
		{`"completions": 16`, `"completions": "16"`, "16 is no integer int32"},
		{`"completions": 16`, `"completions": 1.5`, "1.5 is no integer int32"},
		{`"action": "FailJob", `, ``, "no action"},
		{`"FailJob"`, `"FailRun"`, `"FailRun" is no value that is listed`},
		{`"Indexed"`, `"ByIndex"`, `"ByIndex" is no value that is listed`},
		{`"Never"`, `"Seldom"`, `"Seldom" is no value that is listed`},
		{`[2, 4]`, `2`, "2 is no list"},
		{`"runAsNonRoot": true`, `"runAsNonRoot": "true"`, "true is not true or false"},
		{`"drop": ["ALL"]`, `"drop": [0]`, "0 is no text"},
		{`"cpu": "4"`, `"cpu": true`, "true is of none of the types wanted"},
		{`"template": {`, `"pod": {`, "no template"},
	} {
		wrong := strings.Replace(string(b), c.from, c.to, 1)
		if wrong == string(b) {
			t.Fatalf("the job has no %s", c.from)
		}
		if got := strings.Join(all.check(of, readJob(t, []byte(wrong)), "job"), "\n"); !strings.Contains(got, c.want) {
			t.Errorf("%s in place of %s: %q, want %q", c.to, c.from, got, c.want)
		}
	}
}

// sweepJob is what the test below reads of the Job.
type sweepJob struct {
	Spec struct {
		CompletionMode       string
		Completions          int
		PodReplacementPolicy string
		BackoffLimitPerIndex *int
		PodFailurePolicy     struct {
			Rules []struct {
				Action          string
				OnPodConditions []struct{ Type, Status string }
				OnExitCodes     *struct {
					ContainerName, Operator string
					Values                  []int
				}
			}
		}
		Template struct {
			Spec struct {
				RestartPolicy   string
				SecurityContext struct {
					RunAsNonRoot   bool
					RunAsUser      int
					SeccompProfile struct{ Type string }
				}
				Containers []struct {
					Name          string
					Command, Args []string
					Env           []struct {
						Name      string
						ValueFrom struct{ ResourceFieldRef struct{ Resource string } }
					}
					SecurityContext struct {
						AllowPrivilegeEscalation *bool
						ReadOnlyRootFilesystem   bool
						Capabilities             struct{ Drop []string }
					}
					VolumeMounts []struct {
						MountPath string
						ReadOnly  bool
					}
				}
			}
		}
	}
}

// What the Job makes of the statuses that the program ends with, and that its arguments
// are such as the program takes.
func TestJobRunsTheProgram(t *testing.T) {
	b, err := os.ReadFile("../../configs/sweep-job.json")
	if err != nil {
		t.Fatal(err)
	}
	var job sweepJob
	if err := json.Unmarshal(b, &job); err != nil {
		t.Fatal(err)
	}
	spec, pod := &job.Spec, &job.Spec.Template.Spec
	if len(pod.Containers) != 1 {
		t.Fatalf("%d containers, want 1", len(pod.Containers))
	}
	run := &pod.Containers[0]
	// An end is judged by the first rule that holds for it; none counts it as failed.
	action := func(status int, disrupted bool) string {
		for _, r := range spec.PodFailurePolicy.Rules {
			for _, c := range r.OnPodConditions {
				if disrupted && c.Type == "DisruptionTarget" && c.Status == "True" {
					return r.Action
				}
			}
			if x := r.OnExitCodes; x != nil && x.ContainerName == run.Name && x.Operator == "In" &&
				slices.Contains(x.Values, status) {
				return r.Action
			}
		}
		return "Count"
	}
	const killed = 137
	for _, c := range []struct {
		status    int
		disrupted bool
		want      string
	}{
		{exitUnusable, false, "FailJob"}, {exitAudit, false, "FailJob"}, {exitEarly, false, "Ignore"},
		{exitEarly, true, "Ignore"}, {killed, true, "Ignore"}, {exitUnusable, true, "Ignore"},
		{killed, false, "Count"}, {exitUnkept, false, "Count"},
	} {
		if got := action(c.status, c.disrupted); got != c.want {
			t.Errorf("status %d, disrupted %t: %s, want %s", c.status, c.disrupted, got, c.want)
		}
	}
	// What the API's documentation asks for beside a failure policy and a limit by index.
	if pod.RestartPolicy != "Never" || spec.CompletionMode != "Indexed" || spec.PodReplacementPolicy != "Failed" ||
		spec.BackoffLimitPerIndex == nil {
		t.Errorf("%s, %s, %s: a failure policy and a limit by index want Never, Indexed and Failed",
			pod.RestartPolicy, spec.CompletionMode, spec.PodReplacementPolicy)
	}

	box := &run.SecurityContext
	if p := &pod.SecurityContext; !p.RunAsNonRoot || p.RunAsUser == 0 || p.SeccompProfile.Type != "RuntimeDefault" ||
		box.AllowPrivilegeEscalation == nil || *box.AllowPrivilegeEscalation || !box.ReadOnlyRootFilesystem ||
		!slices.Equal(box.Capabilities.Drop, []string{"ALL"}) {
		t.Errorf("the container may do more than it needs: %+v, %+v", p, box)
	}

	env := map[string]string{"JOB_COMPLETION_INDEX": "15"}
	for _, e := range run.Env {
		if e.ValueFrom.ResourceFieldRef.Resource == "requests.cpu" {
			env[e.Name] = "4"
		}
	}
	args := slices.Clone(run.Args)
	for i := range args {
		args[i] = os.Expand(strings.NewReplacer("$(", "${", ")", "}").Replace(args[i]),
			func(name string) string { return env[name] })
		args[i] = strings.Replace(args[i], "@/configs/", "@../../configs/", 1)
	}
	s := newStudyFlags("sweep", sweepDefaults)
	s.output(s.group("Output"))
	var o sweepOptions
	o.declare(s.group("Output"), s.group("Run"))
	if err := s.take(args[1:]); err != nil {
		t.Fatalf("%q: %v", args, err)
	}
	t.Setenv("JOB_COMPLETION_INDEX", env["JOB_COMPLETION_INDEX"])
	if err := o.check(); err != nil {
		t.Fatalf("%q: %v", args, err)
	}
	if args[0] != "sweep" || o.workers != 4 || o.place.K != 16 || o.place.Of != spec.Completions || !o.resume ||
		len(run.VolumeMounts) != 1 || run.VolumeMounts[0].ReadOnly ||
		o.out != run.VolumeMounts[0].MountPath+"/shard-15" {
		t.Errorf("%q: %d workers, share %v, into %s of %+v", args, o.workers, o.place, o.out, run.VolumeMounts)
	}
}
