# Shared by samples/demo.sh and tests/run.sh, which source it from the project's
# top folder: installs what is missing and builds. Says what it is doing.

say() { printf '\n== %s\n' "$*"; }

# The packages of the given sections of resources/packages.txt, one a line.
packages_of() {
    local section wanted=" $* " line
    while IFS= read -r line; do
        line=${line%%#*}
        line=${line//[[:space:]]/}
        case $line in
            '') ;;
            \[*\]) section=${line//[\[\]]/} ;;
            *) case $wanted in *" $section "*) printf '%s\n' "$line" ;; esac ;;
        esac
    done <resources/packages.txt
}

# install_packages SECTION...: only what is not there yet.
install_packages() {
    local name missing=() as_root=()
    for name in $(packages_of "$@"); do
        dpkg-query -W -f='${Status}' "$name" 2>/dev/null | grep -q 'ok installed' || missing+=("$name")
    done
    if [ ${#missing[@]} -eq 0 ]; then
        say "Packages: all $(packages_of "$@" | wc -l) are there"
        return
    fi
    say "Packages: installing ${#missing[@]} of $(packages_of "$@" | wc -l): ${missing[*]}"
    if [ "$(id -u)" -ne 0 ]; then
        command -v sudo >/dev/null || { echo "Run this as root once, or install sudo: ${missing[*]} are missing." >&2; exit 1; }
        as_root=(sudo)
    fi
    "${as_root[@]}" apt-get update -qq
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
}

# build FOLDER TARGET [CMAKE OPTION...]: configures and builds one target.
build() {
    local folder=$1 target=$2
    shift 2
    say "Building $target in $folder"
    mkdir -p "$folder"
    cmake -S . -B "$folder" -G Ninja -DSILLWRIGHT_WARNINGS_AS_ERRORS=ON "$@" >"$folder/configure.log" 2>&1 ||
        { tail -n 30 "$folder/configure.log" >&2; exit 1; }
    NINJA_STATUS='[%f/%t, %es] ' cmake --build "$folder" --target "$target" | tr '\r' '\n' | grep -vE '^$' | awk 'NR % 25 == 1 || /FAILED|error|warning/ || /no work to do/ { print; fflush() } { last = $0 } END { print last }'
    [ "${PIPESTATUS[0]}" -eq 0 ] || { echo "The build failed." >&2; exit 1; }
}
