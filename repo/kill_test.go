package repo_test

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"servewright/repo/repotest"
)

// TestKilledServer kills a server in the middle of its writes, again and
// again. What it acknowledged is there, each load is there whole or not at all,
// and no number is missing. (It cannot tell whether a power cut would be
// survived too: that the file is flushed at each commit is seen to by
// TestEveryConnectionIsSetUp.)
func TestKilledServer(t *testing.T) {
	onEngines(t, func(t *testing.T, _ repotest.Engine, db repotest.Database) {
		kept := int64(0)
		for kill := range 4 {
			acked := killWriter(t, db.DSN, time.Duration(40+60*kill)*time.Millisecond)
			b, n, err := db.Store(t).Book(t.Context())
			if err != nil {
				t.Fatalf("kill %d left a book that cannot be read: %v", kill, err)
			}
			if n < acked || n < kept || len(b.Components()) != int(2*n) || len(b.Specs()) != int(n) {
				t.Fatalf("kill %d: change %d was acknowledged; there are %d changes with %d components and %d specs, want two and one for each",
					kill, acked, n, len(b.Components()), len(b.Specs()))
			}
			kept = n
		}
		if kept == 0 {
			t.Error("no write was made before any kill")
		}
	})
}

// killWriter starts a process that loads without end, kills it some time after
// its first load and returns the last change that it said was kept.
func killWriter(t *testing.T, dsn string, after time.Duration) (acked int64) {
	t.Helper()
	cmd := exec.Command(os.Args[0], "-test.run=^TestWriteWithoutEnd$")
	cmd.Env = append(os.Environ(), "WRITE_WITHOUT_END="+dsn)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		number, ok := strings.CutPrefix(lines.Text(), "kept ")
		if !ok {
			t.Fatalf("the writer says %q", lines.Text())
		}
		if acked == 0 {
			time.AfterFunc(after, func() { cmd.Process.Kill() })
		}
		if acked, err = strconv.ParseInt(number, 10, 64); err != nil {
			t.Fatal(err)
		}
	}
	cmd.Wait() // killed: an error
	return acked
}

// TestWriteWithoutEnd is the process of killWriter and does nothing by itself.
func TestWriteWithoutEnd(t *testing.T) {
	dsn := os.Getenv("WRITE_WITHOUT_END")
	if dsn == "" {
		return
	}
	s := repotest.Database{DSN: dsn}.Store(t)
	for {
		cs, ss := repotest.Many(2, 1)
		for i := range cs {
			cs[i].Code = ""
		}
		ss[0].Code = ""
		if err := s.Load(t.Context(), nil, cs, ss, time.Unix(0, 0)); err != nil {
			t.Fatal(err)
		}
		rev, err := s.Spec(t.Context(), ss[0].ID)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Printf("kept %d\n", rev.Stamp)
	}
}
