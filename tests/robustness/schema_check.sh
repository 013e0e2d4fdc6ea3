# To be sourced by tests: keeps_schema NAME FILE... holds results against scenes/NAME.schema.json,
# and is content where no Python with jsonschema is at hand, which schema_python says.

schema_here="$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")" && pwd)"
schema_python=""
for candidate in python3 /usr/bin/python3; do
  if "$candidate" -c "import jsonschema" 2>/dev/null; then
    schema_python="$candidate"
    break
  fi
done

keeps_schema() {
  [[ -n "$schema_python" ]] || {
    echo "not held against its schema: python3-jsonschema is missing"
    return 0
  }
  local name="$1"
  shift
  "$schema_python" "$schema_here/schema_check.py" "$schema_here/../../scenes/$name.schema.json" "$@"
}

# The same with faults put in, which must be told.
rejects_faults() {
  "$schema_python" "$schema_here/schema_check.py" --rejects "$schema_here/../../scenes/$1.schema.json" "$2"
}
