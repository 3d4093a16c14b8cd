//go:build unix

package repotest

import (
	"errors"
	"fmt"
	"net"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"syscall"
	"time"
)

// startCluster makes and starts a PostgreSQL in a new directory, on a free
// port, without flushing to the disk. It ends, and the directory with it, when
// this process does, however that comes about.
func startCluster() (dsn string, err error) {
	bin, err := postgresBin()
	if err != nil {
		return "", err
	}
	// Directly under /tmp: a test's own directory cannot be entered by the
	// other user that a server started by root needs.
	dir, err := os.MkdirTemp("/tmp", "servewright-pg-")
	if err != nil {
		return "", err
	}
	as, err := owner(dir)
	if err != nil {
		return "", err
	}
	init := exec.Command(filepath.Join(bin, "initdb"), "-D", dir+"/data", "-U", "postgres", "-A", "trust",
		"-E", "UTF8", "--locale=C", "--locale-provider=icu", "--icu-locale=en-US", "--no-sync")
	init.Dir, init.SysProcAttr = dir, as
	if out, err := init.CombinedOutput(); err != nil {
		return "", fmt.Errorf("initdb: %w: %s", err, out)
	}
	port, err := freePort()
	if err != nil {
		return "", err
	}
	if err := runCluster(bin, dir, port, as); err != nil {
		return "", err
	}
	dsn = "postgres://postgres@127.0.0.1:" + port + "/postgres?sslmode=disable"
	if err := waitFor(dsn, 30*time.Second); err != nil {
		log, _ := os.ReadFile(dir + "/log")
		return "", fmt.Errorf("a temporary PostgreSQL does not come up: %w: %s", err, log)
	}
	return dsn, nil
}

// runCluster starts the server under a shell that waits for its standard input
// to close, which the system does when this process ends.
func runCluster(bin, dir, port string, as *syscall.SysProcAttr) error {
	const script = `"$@" >log 2>&1 & server=$!; read -r _; kill -QUIT $server; wait $server; cd /; rm -rf "$DIR"`
	cmd := exec.Command("/bin/sh", "-c", script, "sh", filepath.Join(bin, "postgres"), "-D", dir+"/data", "-k", "", "-h", "127.0.0.1", "-p", port,
		"-c", "fsync=off", "-c", "synchronous_commit=off", "-c", "full_page_writes=off", "-c", "max_connections=200")
	cmd.Dir, cmd.Env, cmd.SysProcAttr = dir, append(os.Environ(), "DIR="+dir), as
	var err error
	if cluster.alive, err = cmd.StdinPipe(); err != nil {
		return err
	}
	return cmd.Start()
}

// postgresBin finds initdb and postgres, the newest there is.
func postgresBin() (string, error) {
	if path, err := exec.LookPath("initdb"); err == nil {
		return filepath.Dir(path), nil
	}
	found, _ := filepath.Glob("/usr/lib/postgresql/*/bin") // Debian keeps them out of the PATH
	best, newest := "", 0
	for _, dir := range found {
		if v, err := strconv.Atoi(filepath.Base(filepath.Dir(dir))); err == nil && v > newest {
			best, newest = dir, v
		}
	}
	if best == "" {
		return "", errors.New("no PostgreSQL is installed")
	}
	return best, nil
}

// owner returns how to run as somebody PostgreSQL accepts, and gives dir to
// them: it refuses to run as root.
func owner(dir string) (*syscall.SysProcAttr, error) {
	attr := &syscall.SysProcAttr{Setpgid: true} // Ctrl-C is for the tests, which then end it
	if os.Getuid() != 0 {
		return attr, nil
	}
	u, err := user.Lookup("postgres")
	if err != nil {
		if u, err = user.Lookup("nobody"); err != nil {
			return nil, err
		}
	}
	uid, err := strconv.Atoi(u.Uid)
	if err != nil {
		return nil, err
	}
	gid, err := strconv.Atoi(u.Gid)
	if err != nil {
		return nil, err
	}
	attr.Credential = &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}
	return attr, os.Chown(dir, uid, gid)
}

func freePort() (string, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return "", err
	}
	defer l.Close()
	_, port, err := net.SplitHostPort(l.Addr().String())
	return port, err
}
