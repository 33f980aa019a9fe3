"""TIFF films by Pillow (libtiff), OpenCV (libtiff) and tifffile; read back by OpenCV or tifffile."""
import cv2
import numpy as np
import tifffile
from PIL import Image

from film_files import add, add_refused, colours, done, film, luma, path


def by_cv2(name):
    return cv2.imread(path(name), cv2.IMREAD_UNCHANGED | cv2.IMREAD_IGNORE_ORIENTATION)


grey8, grey16 = film(), film(greatest=65535)
rgb8 = colours().astype(np.uint8)

for compression in (None, "tiff_lzw", "tiff_adobe_deflate", "tiff_deflate", "packbits"):
    for depth, values in ((8, grey8.astype(np.uint8)), (16, grey16)):
        name = f"pillow-{compression or 'none'}-grey{depth}.tif"
        Image.fromarray(values).save(path(name), compression=compression)
        add(name, by_cv2(name), 2**depth - 1, "OpenCV")

for compression in ("tiff_lzw", "tiff_adobe_deflate"):
    name = f"pillow-{compression}-predictor.tif"
    Image.fromarray(grey8.astype(np.uint8)).save(path(name), compression=compression, tiffinfo={317: 2})
    add(name, by_cv2(name), 255, "OpenCV")

for depth, values in ((8, grey8.astype(np.uint8)), (16, grey16)):
    name = f"opencv-grey{depth}.tif"
    cv2.imwrite(path(name), values)
    add(name, by_cv2(name), 2**depth - 1, "OpenCV")

for order, word in (("<", "little"), (">", "big")):
    for depth, values in ((8, grey8.astype(np.uint8)), (16, grey16)):
        name = f"tifffile-{word}-strips-grey{depth}.tif"
        tifffile.imwrite(path(name), values, byteorder=order, rowsperstrip=10, photometric="minisblack")
        add(name, tifffile.imread(path(name)), 2**depth - 1, "tifffile")
        name = f"tifffile-{word}-tiles-grey{depth}.tif"
        tifffile.imwrite(path(name), values, byteorder=order, tile=(32, 48), photometric="minisblack")
        add(name, tifffile.imread(path(name)), 2**depth - 1, "tifffile")

# Deflate with and without differences, in strips and tiles, grey and colour; read by OpenCV (libtiff).
for order, word in (("<", "little"), (">", "big")):
    for depth in (8, 16):
        for kind, values, photometric in (("grey", (grey8, grey16)[depth == 16], "minisblack"), ("rgb", colours(greatest=2**depth - 1), "rgb"), ("white", (grey8, grey16)[depth == 16], "miniswhite")):
            values = values.astype(np.uint8 if depth == 8 else np.uint16)
            for predictor in (False, True):
                for layout, parts in (("strips", dict(rowsperstrip=10)), ("tiles", dict(tile=(32, 48)))):
                    name = f"tifffile-{word}-{kind}{depth}-{layout}-{predictor}.tif"
                    tifffile.imwrite(path(name), values, byteorder=order, photometric=photometric, compression="zlib", predictor=predictor, **parts)
                    assert (tifffile.imread(path(name)) == values).all(), name
                    read = by_cv2(name) if kind != "white" else 2**depth - 1 - tifffile.imread(path(name))
                    add(name, luma(read[..., ::-1]) if kind == "rgb" else read, 2**depth - 1, "tifffile" if kind == "white" else "OpenCV")
for orientation in (2, 6, 7):
    name = f"orientation{orientation}-deflated-tiles16.tif"
    tifffile.imwrite(path(name), grey16, photometric="minisblack", compression="zlib", predictor=True, tile=(64, 64), byteorder=">", extratags=[(274, 3, 1, orientation, True)])
    upright = {2: np.fliplr, 6: lambda a: np.rot90(a, -1), 7: lambda a: np.rot90(a, 2).T}[orientation](tifffile.imread(path(name)))
    add(name, upright, 65535, "tifffile and numpy's turns")

tifffile.imwrite(path("tifffile-one-large-tile.tif"), grey16, tile=(256, 256), photometric="minisblack")
add("tifffile-one-large-tile.tif", tifffile.imread(path("tifffile-one-large-tile.tif")), 65535, "tifffile")

# Larger is lighter: a file whose zero is white is turned round. OpenCV (libtiff) does the same for 8 bits.
tifffile.imwrite(path("tifffile-miniswhite8.tif"), grey8.astype(np.uint8), photometric="miniswhite")
add("tifffile-miniswhite8.tif", cv2.imread(path("tifffile-miniswhite8.tif"), cv2.IMREAD_GRAYSCALE), 255, "OpenCV")
tifffile.imwrite(path("tifffile-miniswhite16.tif"), grey16, photometric="miniswhite")
add("tifffile-miniswhite16.tif", 65535 - tifffile.imread(path("tifffile-miniswhite16.tif")), 65535, "tifffile")

Image.fromarray(rgb8).save(path("pillow-rgb8.tif"), compression="tiff_lzw")
add("pillow-rgb8.tif", luma(by_cv2("pillow-rgb8.tif")[..., ::-1]), 255, "OpenCV")
tifffile.imwrite(path("tifffile-rgb16.tif"), colours(greatest=65535), photometric="rgb", byteorder=">", tile=(32, 32))
add("tifffile-rgb16.tif", luma(tifffile.imread(path("tifffile-rgb16.tif"))), 65535, "tifffile")
Image.fromarray(np.dstack([rgb8, rgb8[..., 0]]), "RGBA").save(path("pillow-rgba8.tif"))
add("pillow-rgba8.tif", luma(np.asarray(Image.open(path("pillow-rgba8.tif")))), 255, "Pillow")

tifffile.imwrite(path("tifffile-two-pages.tif"), np.stack([grey16, grey16[::-1]]), photometric="minisblack")
add("tifffile-two-pages.tif", tifffile.imread(path("tifffile-two-pages.tif"), key=0), 65535, "tifffile")

Image.fromarray(grey8.astype(np.uint8)).save(path("pillow-1016dpi.tif"), dpi=(1016, 1016))
add("pillow-1016dpi.tif", by_cv2("pillow-1016dpi.tif"), 255, "OpenCV", spacing=25.4 / 1016)
tifffile.imwrite(path("tifffile-400-per-cm.tif"), grey8.astype(np.uint8), resolution=(400, 400), resolutionunit="CENTIMETER", photometric="minisblack")
add("tifffile-400-per-cm.tif", tifffile.imread(path("tifffile-400-per-cm.tif")), 255, "tifffile", spacing=10 / 400)

for orientation in range(1, 9):
    name = f"orientation{orientation}.tif"
    tifffile.imwrite(path(name), grey8.astype(np.uint8), photometric="minisblack", extratags=[(274, 3, 1, orientation, True)])
    # OpenCV turns TIFF files upright through libtiff's own reader.
    upright = {
        1: lambda a: a, 2: np.fliplr, 3: lambda a: np.rot90(a, 2), 4: np.flipud, 5: np.transpose,
        6: lambda a: np.rot90(a, -1), 7: lambda a: np.rot90(a, 2).T, 8: np.rot90,
    }[orientation](tifffile.imread(path(name)))
    add(name, upright, 255, "tifffile and numpy's turns")

tifffile.imwrite(path("tifffile-float.tif"), grey8.astype(np.float32), photometric="minisblack")
add_refused("tifffile-float.tif", "This TIFF file uses 32 bits per value, which is not read here.", "tifffile")
tifffile.imwrite(path("tifffile-signed.tif"), grey8.astype(np.int16), photometric="minisblack")
add_refused("tifffile-signed.tif", "This TIFF file uses signed or floating-point values, which is not read here.", "tifffile")
tifffile.imwrite(path("tifffile-big.tif"), grey16, bigtiff=True, photometric="minisblack")
add_refused("tifffile-big.tif", "This TIFF file uses the form for files beyond 4 GB (BigTIFF), which is not read here.", "tifffile")
tifffile.imwrite(path("tifffile-planes.tif"), np.ascontiguousarray(rgb8.transpose(2, 0, 1)), photometric="rgb", planarconfig="separate")
add_refused("tifffile-planes.tif", "This TIFF file uses channels stored apart from each other, which is not read here.", "tifffile")
Image.fromarray(grey8.astype(np.uint8)).save(path("pillow-jpeg.tif"), compression="jpeg")
add_refused("pillow-jpeg.tif", "This TIFF file uses JPEG compression, which is not read here.", "Pillow")
Image.fromarray((grey8 > 100).astype(np.uint8) * 255).convert("1").save(path("pillow-fax.tif"), compression="group4")
add_refused("pillow-fax.tif", "This TIFF file uses fax compression, which is not read here.", "Pillow")
Image.fromarray(rgb8).quantize(64).save(path("pillow-palette.tif"))
add_refused("pillow-palette.tif", "This TIFF file uses a colour palette, which is not read here.", "Pillow")
Image.fromarray(rgb8).convert("CMYK").save(path("pillow-cmyk.tif"))
add_refused("pillow-cmyk.tif", "This TIFF file uses printing colours (CMYK), which is not read here.", "Pillow")

done()
