package shopfile

import "strings"

// IsServer tells the address of a shop on a PostgreSQL server from the path of a shop file.
func IsServer(where string) bool {
	return strings.HasPrefix(where, "postgres://") || strings.HasPrefix(where, "postgresql://")
}
