# Set-up shared by packaging/run and packaging/test; it is read by them, not run by itself.
#
# Takes care of three things, each only if it is not done yet: the system libraries (on Debian-like
# systems), the Python environment in .venv, and the installation of roomboard into it.
# shellcheck shell=sh

root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
venv=$root/.venv
py=$venv/bin/python

# Libraries that the window needs. Two names joined by | are an old and a new name of one package.
run_packages='libglib2.0-0|libglib2.0-0t64 libgl1 libegl1 libxkbcommon0 libfreetype6 libfontconfig1
libdbus-1-3 libxcb-cursor0 libxcb-icccm4 libxcb-keysyms1 libxcb-shape0 libxcb-xkb1
libxkbcommon-x11-0'
test_packages='poppler-utils xvfb'

say() {
    printf '%s\n' "roomboard: $*"
}

new_enough() { # COMMAND: is it a Python of 3.11 or later?
    "$1" -c 'import sys; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1
}

find_python() { # Sets $python.
    for python in python3 python3.14 python3.13 python3.12 python3.11; do
        if new_enough "$python"; then
            return 0
        fi
    done
    say 'Python 3.11 or newer is needed and was not found. Install it, then run this again:'
    say '  Debian 12, Ubuntu 24.04 or later: apt-get install python3'
    say '  Fedora: dnf install python3      Arch: pacman -S python      macOS: brew install python'
    exit 1
}

can_make_venv() {
    "$python" -c 'import ensurepip, venv' >/dev/null 2>&1
}

installed() { # NAME or NAME|NAME: is it (or one of them) on the system?
    for name in $(printf '%s' "$1" | tr '|' ' '); do
        case $(dpkg-query -W -f='${db:Status-Abbrev}' "$name" 2>/dev/null) in
            ii*) return 0 ;;
        esac
    done
    return 1
}

known() { # NAMES...: sets $names; of NAME|NAME it takes the last one that this system offers.
    names=
    for alternatives in "$@"; do
        chosen=${alternatives%%|*}
        for name in $(printf '%s' "$alternatives" | tr '|' ' '); do
            if apt-cache show "$name" 2>/dev/null | grep -q '^Package:'; then
                chosen=$name
            fi
        done
        names="${names:+$names }$chosen"
    done
}

as_root() { # COMMAND...: runs it as root.
    if [ "$(id -u)" -eq 0 ]; then
        "$@"
    elif [ -t 0 ]; then
        sudo "$@"
    else
        sudo -n "$@"
    fi
}

can_be_root() {
    [ "$(id -u)" -eq 0 ] || command -v sudo >/dev/null 2>&1
}

apt_install() { # NAMES...: refreshes the list of packages and installs what is named.
    known "$@"
    if ! can_be_root; then
        say 'System libraries: some are missing, and this is neither root nor is there sudo.'
        return 1
    fi
    say "System libraries: installing $names"
    if ! as_root env DEBIAN_FRONTEND=noninteractive apt-get -q update; then
        say 'The list of packages could not be refreshed; trying with the list at hand.'
    fi
    known "$@" # a fresh list may know more
    # shellcheck disable=SC2086
    as_root env DEBIAN_FRONTEND=noninteractive apt-get -q -y \
        -o DPkg::Lock::Timeout=300 install --no-install-recommends $names
}

system_packages() { # PACKAGES...: installs those that are missing, where there is apt-get.
    if ! command -v apt-get >/dev/null 2>&1 || ! command -v dpkg-query >/dev/null 2>&1; then
        say 'No apt-get here, so system libraries are left to you. If something is missing, install'
        say '  Fedora: dnf install mesa-libGL mesa-libEGL libxkbcommon-x11 xcb-util-cursor poppler-utils'
        say '  Arch:   pacman -S libgl libxkbcommon-x11 xcb-util-cursor poppler'
        say '  macOS:  brew install poppler'
        return 0
    fi
    missing=
    can_make_venv || missing=$python-venv
    for package in "$@"; do
        installed "$package" || missing="${missing:+$missing }$package"
    done
    if [ -z "$missing" ]; then
        say 'System libraries: all there.'
        return 0
    fi
    # shellcheck disable=SC2086
    if ! apt_install $missing; then
        say 'They were not installed. As root, run:'
        say "  apt-get update && apt-get install --no-install-recommends $names"
        say 'Going on without them.'
    fi
}

environment() { # Makes .venv unless a working one is there.
    if new_enough "$py" && "$py" -c "import pip" >/dev/null 2>&1; then
        return 0
    fi
    say "Making the Python environment .venv with $("$python" --version)."
    if ! "$python" -m venv --clear "$venv"; then
        say "$python cannot make an environment. On Debian-like systems: apt-get install $python-venv"
        exit 1
    fi
}

stamp_text() {
    printf '%s\n' "$root" "$("$py" --version)"
    cat "$root/pyproject.toml"
}

install_into_environment() { # run | test: installs roomboard, for use or with its test tools.
    # What is installed hangs on pyproject.toml, the place of the checkout and the Python alone.
    # The tools for testing include all that is needed for use.
    for done_before in "$1" test; do
        if stamp_text | cmp -s - "$venv/roomboard-$done_before.stamp"; then
            say 'Python packages: all there.'
            return 0
        fi
    done
    say 'Python packages: installing into .venv (the first time takes a few minutes).'
    if [ "$1" = test ]; then
        what="$root[test]"
    else
        what=$root
    fi
    if ! "$py" -m pip install --quiet --disable-pip-version-check --editable "$what"; then
        say 'The Python packages could not be installed; the lines above say why.'
        exit 1
    fi
    stamp_text >"$venv/roomboard-$1.stamp"
}

set_up() { # run | test
    find_python
    if [ "$1" = test ]; then
        # shellcheck disable=SC2086
        system_packages $run_packages $test_packages
    else
        # shellcheck disable=SC2086
        system_packages $run_packages
    fi
    environment
    install_into_environment "$1"
}
