"""BMP films by Pillow, OpenCV, and struct with the headers of the Windows documentation for what neither writes; read back by Pillow and OpenCV."""
import struct

import cv2
import numpy as np
from PIL import Image

from film_files import add, add_refused, colours, done, film, luma, path

grey8 = film().astype(np.uint8)
rgb8 = colours().astype(np.uint8)


def by_pillow(name):
    return luma(np.asarray(Image.open(path(name)).convert("RGB")))


def by_cv2(name):
    return luma(cv2.imread(path(name), cv2.IMREAD_COLOR)[..., ::-1])


def write(name, rows, width, height, depth, palette=b"", header=40, top_down=False, packing=0, masks=b"", resolution=0):
    """rows: packed bytes of each row, from the top, without filling."""
    rows = [row + b"\0" * (-len(row) % 4) for row in rows]
    if header == 12:
        info = struct.pack("<IHHHH", 12, width, height, 1, depth)
    else:
        colours_in_palette = len(palette) // 4
        info = struct.pack("<IiiHHIIiiII", header, width, -height if top_down else height, 1, depth, packing, 0, resolution, resolution, colours_in_palette, 0)
        info += b"\0" * (header - 40) if not masks else masks.ljust(header - 40, b"\0")
    begin = 14 + len(info) + len(palette)
    picture = b"".join(rows if top_down else rows[::-1])
    with open(path(name), "wb") as out:
        out.write(struct.pack("<2sIHHI", b"BM", begin + len(picture), 0, 0, begin) + info + palette + picture)


def packed(indices, depth):
    per_byte = 8 // depth
    filled = np.pad(indices, ((0, 0), (0, -indices.shape[1] % per_byte)))
    out = np.zeros((len(indices), filled.shape[1] // per_byte), np.uint8)
    for i in range(per_byte):
        out |= (filled[:, i::per_byte] << (8 - depth * (i + 1))).astype(np.uint8)
    return [row.tobytes() for row in out]


greys = bytes(value for grey in range(256) for value in (grey, grey, grey, 0))
for width, height in ((131, 97), (64, 64), (65, 70), (66, 65), (67, 66)):
    values = film(width, height).astype(np.uint8)
    Image.fromarray(values).save(path(f"pillow-grey-{width}.bmp"))
    add(f"pillow-grey-{width}.bmp", by_cv2(f"pillow-grey-{width}.bmp"), 255, "OpenCV")
    cv2.imwrite(path(f"opencv-grey-{width}.bmp"), values)
    add(f"opencv-grey-{width}.bmp", by_pillow(f"opencv-grey-{width}.bmp"), 255, "Pillow")
    Image.fromarray(colours(width, height).astype(np.uint8)).save(path(f"pillow-rgb-{width}.bmp"))
    add(f"pillow-rgb-{width}.bmp", by_cv2(f"pillow-rgb-{width}.bmp"), 255, "OpenCV")
    cv2.imwrite(path(f"opencv-rgb-{width}.bmp"), colours(width, height).astype(np.uint8)[..., ::-1])
    add(f"opencv-rgb-{width}.bmp", by_pillow(f"opencv-rgb-{width}.bmp"), 255, "Pillow")

Image.fromarray((grey8 > 128).astype(np.uint8) * 255).convert("1").save(path("pillow-1.bmp"))
add("pillow-1.bmp", by_cv2("pillow-1.bmp"), 255, "OpenCV")
for count in (256, 64):
    Image.fromarray(rgb8).quantize(count).save(path(f"pillow-palette{count}.bmp"))
    add(f"pillow-palette{count}.bmp", by_pillow(f"pillow-palette{count}.bmp"), 255, "Pillow")
Image.fromarray(np.dstack([rgb8, grey8]), "RGBA").save(path("pillow-rgba.bmp"))
add("pillow-rgba.bmp", luma(rgb8), 255, "the values that went in")
cv2.imwrite(path("opencv-rgba.bmp"), np.dstack([rgb8[..., ::-1], grey8]))
add("opencv-rgba.bmp", luma(cv2.imread(path("opencv-rgba.bmp"), cv2.IMREAD_UNCHANGED)[..., 2::-1]), 255, "OpenCV")
Image.fromarray(grey8).save(path("pillow-1016dpi.bmp"), dpi=(1016, 1016))
add("pillow-1016dpi.bmp", by_pillow("pillow-1016dpi.bmp"), 255, "Pillow", spacing=0.025)

for depth in (1, 4, 8):
    for top_down in (False, True):
        name = f"struct-{depth}-{top_down}.bmp"
        indices = film(greatest=2**depth - 1).astype(np.uint8)
        palette = b"".join(bytes([(37 * i) % 256, (91 * i) % 256, (255 * i) // (2**depth - 1), 0]) for i in range(2**depth))
        write(name, packed(indices, depth), 131, 97, depth, palette, top_down=top_down)
        add(name, by_cv2(name), 255, "OpenCV")
for depth in (24, 32):
    pixels = np.dstack([rgb8[..., ::-1], np.zeros_like(grey8)])[..., :depth // 8]
    for top_down in (False, True):
        for header in (40, 108, 124):
            name = f"struct-{depth}-{top_down}-{header}.bmp"
            write(name, [row.tobytes() for row in pixels], 131, 97, depth, header=header, top_down=top_down)
            add(name, by_cv2(name), 255, "OpenCV")
usual = struct.pack("<III", 0xFF0000, 0xFF00, 0xFF)
for header in (40, 56, 108):
    name = f"struct-masks-{header}.bmp"
    write(name, [row.tobytes() for row in pixels], 131, 97, 32, header=header, packing=3, masks=usual)
    # Pillow does not know the header of 56 bytes.
    add(name, *((by_cv2(name), 255, "OpenCV") if header == 56 else (by_pillow(name), 255, "Pillow")))
write("struct-24-12.bmp", [row.tobytes() for row in pixels[..., :3]], 131, 97, 24, header=12)
add("struct-24-12.bmp", by_pillow("struct-24-12.bmp"), 255, "Pillow")
write("struct-old-palette.bmp", packed(grey8, 8), 131, 97, 8, bytes(value for grey in range(256) for value in (grey, grey, grey)), header=12)
add("struct-old-palette.bmp", by_pillow("struct-old-palette.bmp"), 255, "Pillow")

write("struct-16.bmp", [row.tobytes() for row in film(greatest=32767).astype("<u2")], 131, 97, 16)
add_refused("struct-16.bmp", "This BMP file uses 16 bits per pixel, which is not read here.", "struct")
write("struct-runs.bmp", packed(grey8, 8), 131, 97, 8, greys, packing=1)
add_refused("struct-runs.bmp", "This BMP file uses run-length compression, which is not read here.", "struct")
write("struct-odd-masks.bmp", [row.tobytes() for row in pixels], 131, 97, 32, packing=3, masks=struct.pack("<III", 0xFF, 0xFF00, 0xFF0000))
add_refused("struct-odd-masks.bmp", "This BMP file uses colours in unusual places, which is not read here.", "struct")

done()
