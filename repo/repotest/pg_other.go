//go:build !unix

package repotest

import "errors"

func startCluster() (string, error) {
	return "", errors.New("a temporary PostgreSQL can only be started on Unix")
}
