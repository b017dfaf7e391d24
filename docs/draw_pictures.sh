#!/bin/sh
# Draws the pictures of README.md and of docs/ anew as the program makes them today, but for how-stages.png and
# page-ferry.png (a screenshot): sh docs/draw_pictures.sh PROGRAM, in the project's folder. They are to be looked at,
# and what is said below them read again. Needs ImageMagick and poppler-utils.
set -eu
program=$1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# gallery LOGO OPTION...: the logo as sent, the finished cut, the picture for the client.
gallery() {
    logo=$1
    shift
    "$program" -q -o "$work/$logo" "$@" "samples/$logo.png"
    convert -size 1032x300 xc:white \
        \( "samples/$logo.png" -background white -flatten -resize 300x300 \
        -gravity center -extent 300x300 \) -gravity northwest -geometry +8+0 -composite \
        \( "$work/$logo/face.png" -background white -flatten -resize 300x300 \) -geometry +324+0 -composite \
        \( "$work/$logo/mockup.png" -background white -flatten -resize 400x300 \) -geometry +632+0 -composite \
        -colors 256 -define png:exclude-chunks=date,time "PNG8:docs/gallery-$logo.png"
}

# check NAME LOGO OPTION...: the logo and the cut side by side, as in check.png.
check() {
    name=$1 logo=$2
    shift 2
    "$program" -q -o "$work/$name" "$@" "samples/$logo.png" || [ $? = 1 ] # a no is a picture, too
    convert "$work/$name/check.png" -background white -flatten -resize 1000x -colors 255 \
        -define png:exclude-chunks=date,time "PNG8:docs/guide-$name-check.png"
}

gallery harbour-cafe -j red,navy
gallery night-ferry -k 5
gallery fox-books -j orange,white --stripes 24
check cafe harbour-cafe -j red,navy
check ferry night-ferry
check crest clockmakers-crest
convert "$work/harbour-cafe/mockup.jpg" -resize 900x675 -quality 88 docs/guide-cafe-mockup.jpg
pdftoppm -f 2 -l 2 -r 100 -png -x 138 -y 97 -W 590 -H 482 "$work/harbour-cafe/bench.pdf" "$work/log"
convert "$work"/log*.png -trim +repage -bordercolor white -border 8 -colors 42 -define png:exclude-chunks=date,time \
    PNG8:docs/guide-cafe-log.png
