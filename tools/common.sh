# What tools/run, tools/test and .ci/run share; to be sourced by bash, not run.
# Expects `root`, the top of the source tree. Everything works from any current directory.
source "$root/tools/progress.sh"
export NINJA_STATUS='[%f/%t] '

# Prints those Debian packages of the lists tools/packages/NAME.txt that are not installed. Where packages are not
# Debian's nothing is said: configuring finds out what is missing.
missing_packages() {
  command -v dpkg-query > /dev/null || return 0
  local -a wanted
  local -A there=()
  local name state
  mapfile -t wanted < <(cd "$root/tools/packages" && grep -hv '^#' "${@/%/.txt}")
  while read -r state name; do
    [[ $state == ?i* ]] && there[$name]=yes  # installed; also where it is held back from upgrades (hi)
  done < <(dpkg-query -W -f='${db:Status-Abbrev} ${Package}\n' "${wanted[@]}" 2> /dev/null)
  for name in "${wanted[@]}"; do
    [[ -n ${there[$name]:-} ]] || echo "$name"
  done
}

# install_packages LIST...: installs what is missing, and says so; without the right to, it says what to do and fails.
install_packages() {
  local -a missing
  mapfile -t missing < <(missing_packages "$@")
  [[ ${#missing[@]} -eq 0 ]] && return
  if [[ $(id -u) -ne 0 ]]; then
    echo "These Debian packages are missing. Install them and start again:" >&2
    echo "  sudo apt-get install --no-install-recommends ${missing[*]}" >&2
    return 1
  fi
  apt_install "${missing[@]}"
}

apt_install() {
  local options=(-o APT::Status-Fd=1 -o DPkg::Lock::Timeout=300)
  echo "Installing missing packages: $*" >&2
  # An installation that was stopped in its midst is first brought to its end.
  timed packages followed plain "Packages, left over" dpkg --configure -a &&
    timed packages followed apt "Package lists" apt-get update "${options[@]}" &&
    timed packages followed apt "Packages" env DEBIAN_FRONTEND=noninteractive \
      apt-get install -y --no-install-recommends "${options[@]}" "$@"
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
    apt_install npm
  fi
  timed packages followed plain "Packages of the page tests" \
    npm --prefix "$here" ci --ignore-scripts --no-audit --no-fund
}

# configure PRESET [NAME=VALUE...]: configures when that has not been done, or not with these values.
configure() {
  local preset=$1 folder pair done=yes
  folder=$(build_folder "$preset")
  shift
  [[ -f $folder/build.ninja && ! $root/CMakePresets.json -nt $folder/build.ninja ]] || done=''
  for pair in "$@"; do
    grep -qs "^${pair%%=*}:[A-Z]*=${pair#*=}\$" "$folder/CMakeCache.txt" || done=''
  done
  [[ -n $done ]] && return
  mkdir -p "$folder"
  tell_waiting "$folder"
  timed configure followed plain "Configuring" \
    flock -F "$folder/.lock" cmake -S "$root" --preset "$preset" "${@/#/-D}"
}

# build PRESET WHAT [TARGET...]: builds in a folder that is configured; all targets when none is named.
build() {
  local folder what=$2
  folder=$(build_folder "$1")
  shift 2
  tell_waiting "$folder"
  timed build followed ninja "$what" flock -F "$folder/.lock" cmake --build "$folder" ${1:+--target "$@"}
}

# Two builds in one folder would write the same files at once, so that each holds the folder's lock. Says so when it is
# another's now.
tell_waiting() {
  local status=0
  flock -n "$1/.lock" true 2> /dev/null || status=$?
  [[ $status -ne 1 ]] || echo "Waiting for another command that builds in $1." >&2
}

build_folder() {
  case $1 in
    release) echo "$root/build" ;;
    *) echo "$root/build-$1" ;;
  esac
}

# timed PART COMMAND...: where TUFT_TIMES names a file, what the command took goes there as a line: part, seconds by the
# clock, seconds of processor time of all it started (tools/measure_build reads them).
timed() {
  local part=$1 status=0 start file before after
  shift
  if [[ -z ${TUFT_TIMES:-} ]]; then
    "$@"
    return
  fi
  file=$(mktemp)
  start=${EPOCHREALTIME/,/.}
  times > "$file"  # of this shell, so no subshell
  before=$(child_seconds "$file")
  "$@" || status=$?
  times > "$file"
  after=$(child_seconds "$file")
  rm -f "$file"
  awk -v OFS='\t' -v p="$part" -v a="$start" -v b="${EPOCHREALTIME/,/.}" -v c="$before" -v d="$after" \
    'BEGIN {print p, b - a, d - c}' >> "$TUFT_TIMES"
  return "$status"
}

# Second line of bash's `times`, as in 1m2.5s 0m0.5s, in seconds.
child_seconds() {
  awk 'NR == 2 {gsub(",", "."); for (i = 1; i <= 2; ++i) {split($i, t, /[ms]/); s += 60 * t[1] + t[2]} print s}' "$1"
}
