#!/bin/bash
# Speaks the safety cards of the training again, from the text of the packs:
# checklists/<enterprise>/voices/<language>/<module>.<card>.ogg, Ogg Opus, mono,
# about 16 kbit/s. Needs espeak-ng and opus-tools (apt-get install -y espeak-ng
# opus-tools). It is a synthetic voice that stands in for a person's, and a
# recording that does not say so in its comment is a person's and stays.
#
#   checklists/voices.sh          all of them
#   checklists/voices.sh snail    one enterprise
set -euo pipefail
cd "$(dirname "$0")/.."
for tool in espeak-ng opusenc; do
  command -v "$tool" >/dev/null || { echo "$tool is missing: apt-get install -y espeak-ng opus-tools" >&2; exit 1; }
done
wanted=checklists/${1:-*}/
list=$(mktemp); wave=$(mktemp --suffix=.wav)
trap 'rm -f "$list" "$wave"' EXIT
go run ./checklists/spoken checklists >"$list"

# A card that was taken out leaves no recording behind.
for old in checklists/*/voices/*/*.ogg; do
  if [ -e "$old" ] && ! grep -qF "$old"$'\t' "$list"; then rm -v "$old"; fi
done

while IFS=$'\t' read -r file language words; do
  # shellcheck disable=SC2053  # a pattern is meant
  [[ $file == $wanted* ]] || continue
  if [ -e "$file" ] && ! grep -qa "Synthetic voice" "$file"; then
    echo "$file is a person's: left as it is"
    continue
  fi
  mkdir -p "$(dirname "$file")"
  # Slower than people speak, with pauses: it is heard outdoors, on a cheap phone.
  espeak-ng -v "$language" -s 140 -g 4 -w "$wave" -- "$words"
  # A fixed serial and no padding: the same words give the same bytes.
  opusenc --quiet --bitrate 16 --downmix-mono --speech --serial 1 --padding 0 \
    --comment "DESCRIPTION=Synthetic voice, to be replaced by a person's" "$wave" "$file"
done <"$list"
