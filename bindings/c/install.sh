#!/bin/sh
# Builds the C library and installs it: headers, shared and static library, pkg-config files, CMake package.
# Usage: bindings/c/install.sh PREFIX [release|debug]; DESTDIR is put before PREFIX where it is set.
set -eu

if [ $# -lt 1 ] || [ $# -gt 2 ]; then
    echo "usage: bindings/c/install.sh PREFIX [release|debug]" >&2
    exit 64
fi
profile=${2:-release}
case $profile in
    release) flag=--release ;;
    debug) flag= ;;
    *) echo "usage: bindings/c/install.sh PREFIX [release|debug]" >&2; exit 64 ;;
esac
case $1 in
    /*) prefix=${DESTDIR:-}$1 ;;
    *) prefix=$(pwd)/$1 ;;
esac

cd "$(dirname "$0")/../.."
cargo build --quiet -p poulter-c $flag
built=${CARGO_TARGET_DIR:-target}/$profile
version=$(sed -n 's/^#define POULTER_VERSION "\(.*\)"/\1/p' include/poulter.h)
abi=$(sed -n 's/^#define POULTER_ABI_VERSION //p' include/poulter.h)
# What Rust's standard library needs from the system when it is linked in.
case $(uname -s) in
    Darwin)
        link=libpoulter.dylib; soname=libpoulter.$abi.dylib; file=libpoulter.$version.dylib
        system="-lpthread -lm -liconv"
        lean="-S -x" ;;
    *)
        link=libpoulter.so; soname=libpoulter.so.$abi; file=libpoulter.so.$version
        system="-lgcc_s -lpthread -ldl -lm -lc"
        lean="--strip-unneeded" ;;
esac

install -d "$prefix/include" "$prefix/lib/pkgconfig" "$prefix/lib/cmake/poulter"
install -m 644 include/poulter.h include/poulter.hpp "$prefix/include"
install -m 755 "$built/$link" "$prefix/lib/$file"
ln -sf "$file" "$prefix/lib/$soname"
ln -sf "$soname" "$prefix/lib/$link"
install -m 644 "$built/libpoulter.a" "$prefix/lib"
# Line tables are four fifths of the libraries; a debug build keeps them.
if [ "$profile" = release ] && command -v "${STRIP:-strip}" >/dev/null; then
    "${STRIP:-strip}" $lean "$prefix/lib/$file" "$prefix/lib/libpoulter.a"
fi
for name in poulter.pc poulter-static.pc poulter-config.cmake poulter-config-version.cmake; do
    case $name in
        *.pc) place=lib/pkgconfig ;;
        *) place=lib/cmake/poulter ;;
    esac
    sed -e "s|@version@|$version|g" -e "s|@major_minor@|${version%.*}|g" -e "s|@system@|$system|g" \
        -e "s|@system_list@|$(echo "$system" | tr ' ' ';')|g" \
        -e "s|@shared_file@|$file|g" -e "s|@soname@|$soname|g" \
        "bindings/c/package/$name.in" >"$prefix/$place/$name"
done
echo "poulter $version is in $prefix"
