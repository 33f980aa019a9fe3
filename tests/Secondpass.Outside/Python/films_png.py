"""PNG films by Pillow, OpenCV and a small encoder for what neither writes; read back by Pillow and OpenCV (libpng)."""
import struct
import zlib

import cv2
import numpy as np
from PIL import Image

from film_files import add, colours, done, film, luma, path


def chunk(kind, content):
    return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))


def pack(values, depth):
    """Rows of samples of 1, 2 or 4 bits, or bytes as they are."""
    rows = []
    for row in values:
        if depth == 16:
            rows.append(row.astype(">u2").tobytes())
        elif depth == 8:
            rows.append(row.astype("u1").tobytes())
        else:
            bits = ((row[:, None] >> np.arange(depth - 1, -1, -1)) & 1).astype(np.uint8).ravel()
            rows.append(np.packbits(bits).tobytes())
    return b"".join(b"\0" + row for row in rows)


def write(name, values, depth, interlaced):
    height, width = values.shape
    if interlaced:
        passes = [(0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2)]
        data = b"".join(pack(values[y::dy, x::dx], depth) for x, y, dx, dy in passes)
    else:
        data = pack(values, depth)
    packed = zlib.compress(data)
    with open(path(name), "wb") as out:
        out.write(b"\x89PNG\r\n\x1a\n")
        out.write(chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, depth, 0, 0, 0, int(interlaced))))
        for start in range(0, len(packed), 1000):
            out.write(chunk(b"IDAT", packed[start:start + 1000]))
        out.write(chunk(b"IEND", b""))


def by_cv2(name):
    return cv2.imread(path(name), cv2.IMREAD_UNCHANGED)


def rgb_by_cv2(name):
    return by_cv2(name)[..., 2::-1]


grey8, grey16 = film(), film(greatest=65535)

Image.fromarray(grey8.astype(np.uint8)).save(path("pillow-grey8.png"), dpi=(1016, 1016))
add("pillow-grey8.png", np.asarray(Image.open(path("pillow-grey8.png"))), 255, "Pillow", spacing=25.4 / 1016)

Image.fromarray(grey16).save(path("pillow-grey16.png"))
add("pillow-grey16.png", np.asarray(Image.open(path("pillow-grey16.png"))), 65535, "Pillow")

for strategy in range(5):
    name = f"opencv-grey16-strategy{strategy}.png"
    cv2.imwrite(path(name), grey16, [cv2.IMWRITE_PNG_STRATEGY, strategy, cv2.IMWRITE_PNG_COMPRESSION, 6])
    add(name, by_cv2(name), 65535, "OpenCV")

Image.fromarray((grey8 > 128).astype(np.uint8) * 255).convert("1").save(path("pillow-grey1.png"))
add("pillow-grey1.png", np.asarray(Image.open(path("pillow-grey1.png"))).astype(np.uint16), 1, "Pillow")

for depth in (2, 4):
    name = f"grey{depth}.png"
    write(name, film(greatest=2**depth - 1), depth, False)
    scale = 255 // (2**depth - 1)
    read = np.asarray(Image.open(path(name)).convert("L"))
    assert np.all(read % scale == 0)
    add(name, read // scale, 2**depth - 1, "Pillow")

for depth, values in ((8, grey8), (16, grey16), (4, film(greatest=15)), (1, film(greatest=1))):
    name = f"interlaced-grey{depth}.png"
    write(name, values, depth, True)
    if depth >= 8:
        read = by_cv2(name)
    else:
        read = np.asarray(Image.open(path(name)).convert("L")) // (255 // (2**depth - 1))
    add(name, read, 2**depth - 1, "OpenCV" if depth >= 8 else "Pillow")

write("interlaced-narrow.png", film(65, 64), 8, True)
add("interlaced-narrow.png", by_cv2("interlaced-narrow.png"), 255, "OpenCV")

rgb8, rgb16 = colours().astype(np.uint8), colours(greatest=65535)
Image.fromarray(rgb8).save(path("pillow-rgb8.png"))
add("pillow-rgb8.png", luma(rgb_by_cv2("pillow-rgb8.png")), 255, "OpenCV")

cv2.imwrite(path("opencv-rgb16.png"), rgb16[..., ::-1])
add("opencv-rgb16.png", luma(rgb_by_cv2("opencv-rgb16.png")), 65535, "OpenCV")

alpha = np.full(grey8.shape, 200, np.uint8)
Image.fromarray(np.dstack([rgb8, alpha]), "RGBA").save(path("pillow-rgba8.png"))
add("pillow-rgba8.png", luma(np.asarray(Image.open(path("pillow-rgba8.png")))), 255, "Pillow")

Image.fromarray(np.dstack([grey8.astype(np.uint8), alpha]), "LA").save(path("pillow-la8.png"))
add("pillow-la8.png", np.asarray(Image.open(path("pillow-la8.png")))[..., 0], 255, "Pillow")

Image.fromarray(np.dstack([grey8.astype(np.uint8)] * 3)).save(path("pillow-grey-as-rgb.png"))
add("pillow-grey-as-rgb.png", np.asarray(Image.open(path("pillow-grey-as-rgb.png")))[..., 0], 255, "Pillow")

for count in (256, 16, 4, 2):
    name = f"pillow-palette{count}.png"
    Image.fromarray(rgb8).quantize(count).save(path(name))
    add(name, luma(np.asarray(Image.open(path(name)).convert("RGB"))), 255, "Pillow")

done()
