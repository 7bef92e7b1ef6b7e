# SPDX-License-Identifier: MIT
# shellcheck shell=bash
#
# What tools/run and tools/test share; sourced, not run. Sets root (the project's folder) and jobs.

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd -P)

say() { printf '== %s\n' "$*"; }

fail() {
    printf 'tools/%s: %s\n' "${0##*/}" "$*" >&2
    exit 2
}

# One compiler at a time needs up to 1 GB: on a small machine fewer jobs than cores are faster.
jobs=$(nproc)
free_gb=$(awk '/^MemAvailable:/ { print int($2 / 1048576) }' /proc/meminfo 2>/dev/null || true)
if [ -n "$free_gb" ] && [ "$free_gb" -lt "$jobs" ]; then jobs=$((free_gb > 0 ? free_gb : 1)); fi

# Installs the packages of tools/packages.txt that are missing. Silent and offline when none is.
install_packages() {
    local wanted missing=() package have as_root=()
    wanted=$(awk '!/^#/ && NF { print $1 }' "$root/tools/packages.txt")
    if ! command -v dpkg-query >/dev/null; then
        say "This is not Debian. Building anyway; should something be missing, it is in one of these (named as in" \
            "Debian 12): ${wanted//$'\n'/ }"
        return
    fi
    # shellcheck disable=SC2086
    have=$(dpkg-query -W -f '${db:Status-Status} ${Package}\n' $wanted 2>/dev/null || true)
    for package in $wanted; do
        grep -qxF "installed $package" <<<"$have" || missing+=("$package")
    done
    if [ ${#missing[@]} -eq 0 ]; then return; fi

    say "Installing packages: ${missing[*]}"
    if [ "$(id -u)" -ne 0 ]; then
        command -v sudo >/dev/null ||
            fail "these packages are missing and only root can install them; as root, run: apt-get install ${missing[*]}"
        as_root=(sudo)
    fi
    # A new machine has no package lists, an old one has outdated ones: fetch them first.
    { "${as_root[@]}" apt-get update -q &&
        "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive \
            apt-get install -q -y --no-install-recommends "${missing[@]}"; } </dev/null ||
        fail "could not install ${missing[*]} (see above). Is there a network? Once they are installed, none is needed."
}

# build FOLDER DESCRIPTION TARGET OPTION...: configures FOLDER if need be, then builds TARGET in it.
build() {
    local folder=$1 description=$2 target=$3
    shift 3
    mkdir -p "$folder" 2>/dev/null || true
    [ -w "$folder" ] || fail "cannot write to $folder; make that folder writable."
    # Two builds in one folder would spoil each other's files.
    exec 9>"$folder/.lock"
    if ! flock -n 9; then
        say "Waiting for another build in $folder"
        flock 9
    fi
    say "$description, $jobs at a time, in ${folder#"$root"/}"
    local cached
    cached=$(sed -n 's/^CMAKE_HOME_DIRECTORY:INTERNAL=//p' "$folder/CMakeCache.txt" 2>/dev/null || true)
    if [ "$cached" != "$root" ] || [ ! -f "$folder/build.ninja" ]; then
        # New, half-configured, or moved here from elsewhere.
        cmake --fresh -S "$root" -B "$folder" -G Ninja "$@" >"$folder/configure.log" 2>&1 || {
            cat "$folder/configure.log" >&2
            fail "the build could not be set up; the reason stands above."
        }
    fi
    ninja -C "$folder" -j "$jobs" "$target" || fail "the build failed; the reason stands above."
    exec 9>&-
}
