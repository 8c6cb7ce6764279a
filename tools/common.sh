# What tools/run, tools/test and .ci/run share; to be sourced by bash, not run.
# Expects `root`, the top of the source tree. Everything works from any current directory.

# Installs the Debian packages of tools/packages.txt that are missing, and says so; does nothing when none is.
install_missing_packages() {
  local package missing=()
  while read -r package; do
    [[ -z $package || $package == '#'* ]] && continue
    dpkg-query -W -f='${db:Status-Abbrev}' "$package" 2>/dev/null | grep -q '^ii' || missing+=("$package")
  done < "$root/tools/packages.txt"
  [[ ${#missing[@]} -eq 0 ]] && return
  if [[ $(id -u) -ne 0 ]]; then
    echo "These Debian packages are missing. Install them and start again:" >&2
    echo "  sudo apt-get install --no-install-recommends ${missing[*]}" >&2
    exit 1
  fi
  echo "Installing missing packages: ${missing[*]}" >&2
  quietly apt-get update
  DEBIAN_FRONTEND=noninteractive quietly apt-get install -y --no-install-recommends "${missing[@]}"
}

# What the page tests stand on, by the lock file of tests/page; nothing to do when it is there already. npm comes with
# some builds of node and is a package of its own with Debian's.
install_page_tests() {
  local here=$root/tests/page
  [[ $here/node_modules/.package-lock.json -nt $here/package-lock.json ]] && return
  if ! command -v npm > /dev/null; then
    if [[ $(id -u) -ne 0 ]]; then
      echo "npm is missing: the page tests are left out. Install it: sudo apt-get install npm" >&2
      return
    fi
    DEBIAN_FRONTEND=noninteractive quietly apt-get install -y --no-install-recommends npm
  fi
  (cd "$here" && quietly npm ci --ignore-scripts --no-audit --no-fund)
}

# Runs a command and shows what it printed only when it fails.
quietly() {
  local log status=0
  log=$(mktemp)
  "$@" > "$log" 2>&1 || status=$?
  if [[ $status -ne 0 ]]; then
    cat "$log" >&2
    echo "failed with status $status: $*" >&2
  fi
  rm -f "$log"
  return "$status"
}

# build <preset> [<target>...]: configures and builds; all targets when none is named.
build() {
  local preset=$1
  shift
  (
    cd "$root"
    quietly cmake --preset "$preset"
    quietly cmake --build --preset "$preset" ${1:+--target "$@"}
  )
}
