#!/usr/bin/env bash
# Installs what is missing on Debian 12, then configures and builds into build/. Safe to run twice; quick the second time.
set -euo pipefail
cd "$(dirname "$0")"

packages=(
  g++ cmake ninja-build zlib1g-dev libyaml-cpp-dev libcli11-dev libpolyclipping-dev
  libcairo2-dev libfreetype-dev fonts-osifont
  libocct-foundation-dev libocct-modeling-data-dev libocct-modeling-algorithms-dev libocct-data-exchange-dev
  # for the tests and benches
  libgtest-dev libgmock-dev librapidcheck-dev libbenchmark-dev nlohmann-json3-dev lib3mf-dev admesh librsvg2-bin
  poppler-utils qpdf python3-ezdxf chromium linuxcnc-uspace
)
preset=default
if [ "${CI:-}" = true ]; then
  packages+=(clang-format-14 clang-tidy-16)
  preset=strict
fi

missing=()
for package in "${packages[@]}"; do
  dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q '^install ok installed$' || missing+=("$package")
done
# A Node.js that did not come from Debian is as good.
command -v node >/dev/null && command -v npm >/dev/null || missing+=(nodejs npm)

if [ ${#missing[@]} -gt 0 ]; then
  as_root=()
  if [ "$(id -u)" -ne 0 ]; then
    command -v sudo >/dev/null || { echo "setup.sh: needs root or sudo to install: ${missing[*]}" >&2; exit 1; }
    as_root=(sudo)
  fi
  echo "setup.sh: installing ${missing[*]}"
  "${as_root[@]}" apt-get update -qq
  DEBIAN_FRONTEND=noninteractive "${as_root[@]}" apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
fi

# Second readers of the files that the program writes; used by the tests only.
tools=tests/tools
if ! cmp -s "$tools/package-lock.json" "$tools/node_modules/.installed-lock"; then
  npm ci --prefix "$tools" --ignore-scripts --no-audit --no-fund --loglevel=error
  cp "$tools/package-lock.json" "$tools/node_modules/.installed-lock"
fi

# Configured again only for another preset or after a clean.
if [ "$(cat build/.preset 2>/dev/null)" != "$preset" ]; then
  cmake --preset "$preset" >/dev/null
  echo "$preset" >build/.preset
fi
cmake --build build
