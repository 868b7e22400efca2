package shopfile

import (
	_ "embed"
	"fmt"
	"regexp"
)

//go:embed roles.sql
var roles string

var plainName = regexp.MustCompile(`^[a-z][a-z0-9_]{0,50}$`)

// Roles is a script of SQL that makes a schema of that name for a shop on a server, with a role that owns the
// shop and one for the benches, which read and write its rows and may do nothing else.
func Roles(schema string) (string, error) {
	if !plainName.MatchString(schema) {
		return "", told{fmt.Errorf("schema: %q is not a plain name, such as shop or shop_two", schema)}
	}
	if schema == "shop" {
		return roles, nil
	}
	named := roleNames.ReplaceAllString(roles, schema+"$1")
	return schemaNames.ReplaceAllString(named, "${1}"+schema), nil
}

// Where the script names the roles and the schema. In its sentences a shop is just a shop.
var (
	roleNames   = regexp.MustCompile(`\bshop(_owner|_bench)\b`)
	schemaNames = regexp.MustCompile(`(SCHEMA |search_path=)shop\b`)
)

// onlyRead leaves the record of migrations to its owner: by the rights that all tables get, a bench could make
// the others believe that the shop was of a newer program.
const onlyRead = `DO $$ DECLARE who TEXT; BEGIN
	FOR who IN SELECT DISTINCT CAST(CAST(a.grantee AS regrole) AS TEXT) FROM pg_class c, aclexplode(c.relacl) a
		WHERE c.oid = CAST('goose_db_version' AS regclass) AND a.grantee NOT IN (0, c.relowner)
	LOOP EXECUTE 'REVOKE INSERT, UPDATE, DELETE ON goose_db_version FROM ' || who; END LOOP;
END $$`
