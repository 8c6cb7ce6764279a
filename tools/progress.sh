# Tells where a long command stands; to be sourced by bash. On a terminal one line that moves and is gone at the end;
# elsewhere a line every TUFT_PROGRESS_SECONDS. A command that is over within a second leaves no trace.

progress_every=${TUFT_PROGRESS_SECONDS:-15}
progress_said=$SECONDS  # when a line was last written, by whichever command

# followed KIND WHAT COMMAND...: runs a program and tells how far it is. What the program printed is shown only when it
# fails; its status is returned. KIND says how its lines are read:
#   plain  not at all       ninja  cmake --build with Ninja       apt  apt-get with APT::Status-Fd=1
#   ctest  shown as they come
# Ctrl-C and its like end the program, and wait for it to put its things in order, before they end the script.
followed() {
  local kind=$1 what=$2 log fd pid line='' rest='' state='' signal='' kill_at='' status=0
  local finished=0 total=0 began=$SECONDS phase='' phase_began=$SECONDS terminal='' shown='' width=80 ended=''
  local -A running=()
  shift 2
  log=$(mktemp)
  if [[ -t 2 && ${TERM:-dumb} != dumb ]]; then
    terminal=yes
    read -r _ width < <(stty size <&2 2> /dev/null) || width=80
    (( width > 20 )) || width=80
  fi
  # A session of its own: a signal reaches it as a whole and through us alone, also when only we got it.
  exec {fd}< <(exec setsid "$@" 2>&1 < /dev/null)
  pid=$!
  trap 'progress_stop INT' INT
  trap 'progress_stop TERM' TERM
  trap 'progress_stop HUP' HUP
  while progress_read; do
    progress_show
  done
  exec {fd}<&-
  wait "$pid" || status=$?
  trap - INT TERM HUP
  progress_clear
  if [[ -n $signal ]]; then
    rm -f "$log"
    echo "Stopped: $what. What is done stays; start again to go on." >&2
    kill -s "$signal" $$
  fi
  if [[ $status -ne 0 && $kind != ctest ]]; then
    progress_log "$log" >&2
    echo "failed with status $status: $*" >&2
  fi
  rm -f "$log"
  return "$status"
}

# Ends what `followed` runs, which then ends its children and takes away what is half written. No interrupt is sent: what
# a script starts in the background ignores it, and so do its children.
progress_stop() {
  signal=${signal:-$1}
  kill_at=${kill_at:-$((SECONDS + 20))}
  kill -TERM -- "-$pid" 2> /dev/null || true
}

# Reads a line, or waits a second for one; false at the end of the output. A program that has ended is not waited for
# when what it left running keeps its output open, as a service that a package starts may; one that was stopped is, until
# all it started is gone.
progress_read() {
  local got=0
  [[ -z $kill_at || $SECONDS -lt $kill_at ]] || kill -KILL -- "-$pid" 2> /dev/null || true
  IFS= read -r -t 1 -u "$fd" line || got=$?
  rest+=$line
  if (( got > 128 )) && [[ -z $ended ]]; then  # not yet the end of a line
    # It may have written between the last look and its end: one more look.
    [[ -n $signal ]] || kill -0 "$pid" 2> /dev/null || ended=yes
    return 0
  fi
  [[ $got -eq 0 || -n $rest ]] && progress_line "$rest"
  rest=''
  return "$got"
}

# Takes in a line of output.
progress_line() {
  case $kind in
    ninja)
      if [[ $1 =~ ^\[[0-9]+/[0-9]+\]\ (Re-checking\ globbed|Re-running\ CMake) ]]; then
        return  # counts none of the steps to come
      elif [[ $1 =~ ^\[([0-9]+)/([0-9]+) ]]; then
        progress_counted '' "${BASH_REMATCH[1]}" "${BASH_REMATCH[2]}"
        state="$finished of $total"
      fi ;;
    apt)
      if [[ $1 =~ ^(dl|pm)status:[^:]*:([0-9]+) ]]; then
        local words=installing
        [[ ${BASH_REMATCH[1]} == dl ]] && words=downloading
        progress_counted "$words" "${BASH_REMATCH[2]}" 100
        state="$words, $finished %"
        return
      fi ;;
    ctest)
      progress_test "$1"
      progress_clear
      printf '%s\n' "$1"
      progress_said=$SECONDS
      return ;;
  esac
  printf '%s\n' "$1" >> "$log"
}

# progress_counted PHASE FINISHED TOTAL: time left is judged within a phase.
progress_counted() {
  [[ $phase == "$1" ]] || phase_began=$SECONDS
  phase=$1 finished=$2 total=$3
}

# Which tests are done, and which run.
progress_test() {
  if [[ $1 =~ ^[[:space:]]*Start[[:space:]]+[0-9]+:[[:space:]](.*[^[:space:]]) ]]; then
    running[${BASH_REMATCH[1]}]=yes
  elif [[ $1 =~ ^[[:space:]]*([0-9]+)/([0-9]+)[[:space:]]+Test[[:space:]]+\#[0-9]+:[[:space:]]([^[:space:]]+) ]]; then
    progress_counted '' "${BASH_REMATCH[1]}" "${BASH_REMATCH[2]}"
    unset "running[${BASH_REMATCH[3]}]"
  else
    return
  fi
  (( total > 0 )) && state="$finished of $total done, " || state=''
  state+="running: ${!running[*]}"
}

# Writes the moving line, or another line where none moves, when it is time to.
progress_show() {
  (( SECONDS > began + 1 )) || return 0
  if [[ -n $terminal ]]; then
    local text
    text=$(progress_text)
    [[ $text == "$shown" ]] || printf '\r\033[K%s' "${text:0:width-1}" >&2
    shown=$text
  elif (( SECONDS - progress_said >= progress_every )) || [[ -z $shown && $kind != ctest ]]; then
    progress_text >&2
    shown=yes
    progress_said=$SECONDS
  fi
}

progress_text() {
  printf '%s%s (%s s%s)\n' "$what" "${state:+: $state}" "$((SECONDS - began))" "$(progress_left)"
}

# How long the rest may take: as much for each step as so far, which is rough, as steps differ; nothing is said of it
# while few are done.
progress_left() {
  local spent=$((SECONDS - phase_began)) left
  (( finished >= 3 && 8 * finished >= total && finished < total && spent >= 5 )) || return 0
  left=$((spent * (total - finished) / finished))
  if (( left < 50 )); then
    printf ', less than a minute left'
  else
    printf ', about %s min left' "$(((left + 30) / 60))"
  fi
}

progress_clear() {
  [[ -n $terminal && -n $shown ]] && printf '\r\033[K' >&2
  [[ -z $terminal ]] || shown=''
}

# What a failed program printed, without the steps that went well.
progress_log() {
  if [[ $kind == ninja ]]; then
    grep -vE '^\[[0-9]+/[0-9]+' "$1" || true
  else
    cat "$1"
  fi
}
