package repo_test

import (
	"testing"

	"servewright/repo/repotest"
)

func TestContract(t *testing.T) {
	for _, e := range repotest.Engines {
		t.Run(e.Name, func(t *testing.T) { repotest.Run(t, e.New) })
	}
}
