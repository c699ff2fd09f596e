#!/usr/bin/env bash
# Usage: subset_fonts.sh FONT_DIR OUT_CPP FILE...
# Cuts the four faces down to what the screen can show and writes them as C++ arrays. Fails when
# a FILE (packs, strings, our own sources) holds a code point that the font lacks: nothing may be
# drawn as a box that we wrote ourselves.
set -euo pipefail
fonts=$1
out=$2
shift 2
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# What a person may type in the four languages of the tool, and the signs of the trade.
always=20-7E,A0-FF,152,153,178,3A9,3BC,2013,2014,2018,2019,201C,201D,201E,2022,2026,2032,2033
always+=,20AC,2190,2191,2192,2193,2212,221E,2248,2264,2265

# Our content's own: everything outside ASCII, without C++ comments.
if [ $# -gt 0 ]; then
  for file in "$@"; do
    case $file in
      *.cpp | *.hpp) sed 's@//.*$@@' "$file" ;;
      *) cat "$file" ;;
    esac
  done | LC_ALL=C.UTF-8 grep -oP '[^\x00-\x7F]' | LC_ALL=C sort -u >"$work/used" || true
  if [ -s "$work/used" ]; then
    while IFS= read -r sign; do
      code=$(printf '%s' "$sign" | iconv -f UTF-8 -t UTF-32BE | od -An -tx1 | tr -d ' \n')
      glyph=$(hb-shape --no-glyph-names --no-positions --no-clusters --unicodes="U+$code" \
        "$fonts/B612-Regular.otf")
      if [ "$glyph" = "[0]" ]; then
        echo "The font has no glyph for U+$code ($sign). It stands in:" >&2
        grep -lF -- "$sign" "$@" >&2 || true
        exit 1
      fi
      always+=",${code#0000}"
    done <"$work/used"
  fi
fi

figures=20-7E,B0,B5,3A9,2026,2212
{
  echo '// Made by the build from the subset fonts.'
  echo '#include "ui/fonts.hpp"'
  echo 'namespace kp::ui {'
  echo 'namespace {'
} >"$work/out.cpp"
for face in Regular:B612-Regular:$always Bold:B612-Bold:$always Mono:B612Mono-Regular:$always \
            MonoBold:B612Mono-Bold:$figures; do
  IFS=: read -r name file codes <<<"$face"
  hb-subset "$fonts/$file.otf" --unicodes="$codes" --no-hinting --drop-tables+=GPOS,GSUB,GDEF,kern \
    --output-file="$work/$name.otf"
  {
    echo "constexpr unsigned char k$name[] = {"
    od -An -v -tu1 "$work/$name.otf" | sed 's/^ *//; s/  */,/g; s/$/,/'
    echo '};'
  } >>"$work/out.cpp"
done
{
  echo '}  // namespace'
  echo 'FontFile font_file(Face face) {'
  echo '  switch (face) {'
  echo '    case Face::bold: return {kBold, static_cast<int>(sizeof(kBold))};'
  echo '    case Face::mono: return {kMono, static_cast<int>(sizeof(kMono))};'
  echo '    case Face::mono_bold: return {kMonoBold, static_cast<int>(sizeof(kMonoBold))};'
  echo '    case Face::regular: break;'
  echo '  }'
  echo '  return {kRegular, static_cast<int>(sizeof(kRegular))};'
  echo '}'
  echo '}  // namespace kp::ui'
} >>"$work/out.cpp"
if ! cmp -s "$work/out.cpp" "$out"; then
  cp "$work/out.cpp" "$out"
fi
