package handover

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	_ "image/png" // photographs may be PNG

	"golang.org/x/image/draw"
)

const (
	longest     = 1200       // pixels of a photograph in the PDF: 170 mm at 180 dots an inch
	mostPixels  = 80_000_000 // to be opened at all: more than a pocket camera makes
	jpegQuality = 82
)

var errTooLarge = errors.New("a photograph of more than 80 million pixels")

// printed makes a photograph fit to print: upright, at most 1200 pixels long, a
// JPEG on white.
func printed(data []byte) ([]byte, error) {
	head, _, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("read the photograph: %w", err)
	}
	if int64(head.Width)*int64(head.Height) > mostPixels {
		return nil, errTooLarge
	}
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("read the photograph: %w", err)
	}
	size := img.Bounds()
	w, h := fitted(size.Dx(), size.Dy())
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(out, out.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
	draw.BiLinear.Scale(out, out.Bounds(), img, size, draw.Over, nil)
	var b bytes.Buffer
	if err := jpeg.Encode(&b, upright(out, orientation(data)), &jpeg.Options{Quality: jpegQuality}); err != nil {
		return nil, fmt.Errorf("write the photograph: %w", err)
	}
	return b.Bytes(), nil
}

// fitted gives the size of a photograph in the PDF in pixels.
func fitted(w, h int) (int, int) {
	if most := max(w, h); most > longest {
		return max(1, w*longest/most), max(1, h*longest/most)
	}
	return w, h
}

// upright turns a photograph as its orientation says: 1 to 8 of Exif 2.3, 4.6.4,
// tag 0x0112. Those that mirror are turned back too.
func upright(img *image.RGBA, orientation int) *image.RGBA {
	if orientation < 2 || orientation > 8 {
		return img
	}
	w, h := img.Bounds().Dx(), img.Bounds().Dy()
	size := image.Rect(0, 0, w, h)
	if orientation >= 5 {
		size = image.Rect(0, 0, h, w)
	}
	out := image.NewRGBA(size)
	for y := range h {
		for x := range w {
			tx, ty := x, y
			switch orientation {
			case 2:
				tx = w - 1 - x
			case 3:
				tx, ty = w-1-x, h-1-y
			case 4:
				ty = h - 1 - y
			case 5:
				tx, ty = y, x
			case 6:
				tx, ty = h-1-y, x
			case 7:
				tx, ty = h-1-y, w-1-x
			case 8:
				tx, ty = y, w-1-x
			}
			copy(out.Pix[out.PixOffset(tx, ty):][:4], img.Pix[img.PixOffset(x, y):][:4])
		}
	}
	return out
}

// orientation reads how a JPEG is to be turned; 1, as it is, where it does not say.
func orientation(data []byte) int {
	const asItIs = 1
	if len(data) < 4 || data[0] != 0xff || data[1] != 0xd8 {
		return asItIs
	}
	for at := 2; at+4 <= len(data) && data[at] == 0xff; {
		marker, size := data[at+1], int(binary.BigEndian.Uint16(data[at+2:]))
		end := at + 2 + size
		if marker == 0xda || size < 2 || end > len(data) {
			break // the picture itself, or no segment
		}
		if exif, ok := bytes.CutPrefix(data[at+4:end], []byte("Exif\x00\x00")); marker == 0xe1 && ok {
			return exifOrientation(exif, asItIs)
		}
		at = end
	}
	return asItIs
}

// exifOrientation reads tag 0x0112 of the first directory.
func exifOrientation(tiff []byte, otherwise int) int {
	const head, entry, tag = 8, 12, 0x0112
	if len(tiff) < head {
		return otherwise
	}
	var order binary.ByteOrder = binary.BigEndian
	if string(tiff[:2]) == "II" {
		order = binary.LittleEndian
	}
	at := int64(order.Uint32(tiff[4:]))
	if at < head || at+2 > int64(len(tiff)) {
		return otherwise
	}
	list := tiff[at+2:]
	for range order.Uint16(tiff[at:]) {
		if len(list) < entry {
			break
		}
		if order.Uint16(list) == tag {
			return int(order.Uint16(list[8:]))
		}
		list = list[entry:]
	}
	return otherwise
}
