"""Packed and otherwise encoded DICOM films by dcmtk (dcmconv, dcmcjpeg, dcmcrle, img2dcm) and pydicom; read back by dcmtk (dcmdjpeg, dcmdrle, dcmconv) and pydicom."""
import subprocess

import numpy as np
import pydicom
from PIL import Image
from pydicom.encaps import generate_pixel_data_frame, itemize_fragment
from pydicom.uid import RLELossless

from dicom_files import SECONDARY, signed, write
from film_files import add, colours, done, film, luma, path
from lossless_jpeg import encode

LOSSLESS, FIRST_ORDER = "1.2.840.10008.1.2.4.57", "1.2.840.10008.1.2.4.70"
rgb8 = colours().astype(np.uint8)


def run(*command):
    subprocess.run([*command[:-2], path(command[-2]), path(command[-1])], check=True)


def stored(name):
    """Stored values, signed ones raised by half their range, dark and light as the file means them."""
    data = pydicom.dcmread(path(name))
    values = data.pixel_array.astype(np.int64) >> (data.HighBit + 1 - data.BitsStored)
    values = values + (2 ** (data.BitsStored - 1) if data.PixelRepresentation else 0)
    return (2**data.BitsStored - 1 - values if data.PhotometricInterpretation == "MONOCHROME1" else values), 2**data.BitsStored - 1


def add_unpacked(name, plain, decoder, tolerance=0):
    """Expects of a film what the same film holds that another program unpacked."""
    values, greatest = stored(plain)
    add(name, values, greatest, decoder, tolerance)


def add_by_dcmdjpeg(name):
    run("dcmdjpeg", name, "unpacked.dcm")
    add_unpacked(name, "unpacked.dcm", "dcmdjpeg")


def wrap(name, template, syntax, streams):
    """Puts pieces, the first of which is the table of offsets, into a film."""
    data = pydicom.dcmread(path(template))
    data.file_meta.TransferSyntaxUID = syntax
    data.PixelData = b"".join(itemize_fragment(stream + b"\0" * (len(stream) % 2)) if stream else b"\xfe\xff\x00\xe0\0\0\0\0" for stream in streams)
    data["PixelData"].VR = "OB"
    data["PixelData"].is_undefined_length = True
    data.save_as(path(name), write_like_original=False)


# Every depth, sign and polarity that sensors write.
kinds = [(bits, 8 if bits <= 8 else 16, "MONOCHROME2") for bits in (2, 5, 8, 9, 10, 11, 12, 13, 14, 15, 16)] + [(8, 16, "MONOCHROME2"), (12, 16, "MONOCHROME1")]
for bits, allocated, photometric in kinds:
    write(f"plain-{bits}-{allocated}-{photometric}.dcm", film(greatest=2**bits - 1), bits, allocated, photometric=photometric)
for bits in (8, 12, 16):
    write(f"plain-signed{bits}.dcm", signed(film(greatest=2**bits - 1), bits), bits, 8 if bits == 8 else 16)
grey = [f"plain-{bits}-{allocated}-{photometric}.dcm" for bits, allocated, photometric in kinds] + [f"plain-signed{bits}.dcm" for bits in (8, 12, 16)]
write("plain-rgb.dcm", rgb8, 8, 8, sop=SECONDARY, photometric="RGB", PlanarConfiguration=0)
data = write("plain-high-bit.dcm", (film(greatest=4095) << 4).astype(np.uint16), bits=12)
data.HighBit = 15
data.save_as(path("plain-high-bit.dcm"), write_like_original=False)
grey.append("plain-high-bit.dcm")

# Lossless JPEG: dcmtk as encoder and decoder, each predictor and depth; what it leaves out of low bits is gone.
for name in grey:
    word = name[len("plain-"):]
    for predictor in range(1, 8) if name in ("plain-12-16-MONOCHROME2.dcm", "plain-16-16-MONOCHROME2.dcm", "plain-8-8-MONOCHROME2.dcm", "plain-signed16.dcm") else (1, 6):
        run("dcmcjpeg", "+el", "+sv", str(predictor), name, f"lossless-sv{predictor}-{word}")
        add_by_dcmdjpeg(f"lossless-sv{predictor}-{word}")
    run("dcmcjpeg", "+e1", name, f"lossless-first-order-{word}")
    add_by_dcmdjpeg(f"lossless-first-order-{word}")
for bits_left_out in (1, 3):
    run("dcmcjpeg", "+el", "+sv", "4", "+pt", str(bits_left_out), "plain-12-16-MONOCHROME2.dcm", f"lossless-without-{bits_left_out}.dcm")
    add_by_dcmdjpeg(f"lossless-without-{bits_left_out}.dcm")
run("dcmcjpeg", "+e1", "plain-rgb.dcm", "lossless-rgb.dcm")
add("lossless-rgb.dcm", luma(rgb8), 255, "the values that went in")

# Restart marks and every depth from 2 to 16 with our own encoder, which dcmdjpeg decodes to what went in.
for bits in range(2, 17):
    values = film(greatest=2**bits - 1)
    template = f"own-plain{bits}.dcm"
    write(template, values, bits, 8 if bits <= 8 else 16)
    for predictor, rows in ((bits % 7 + 1, 0), (bits % 5 + 2, 1), (7, 10)):
        name = f"own-{bits}-sv{predictor}-restart{rows}.dcm"
        wrap(name, template, LOSSLESS, [b"", encode(values, bits, predictor, rows_to_restart=rows)])
        run("dcmdjpeg", name, "unpacked.dcm")
        assert (pydicom.dcmread(path("unpacked.dcm")).pixel_array == values).all(), name
        add_unpacked(name, "unpacked.dcm", "dcmdjpeg")
# Differences of 16 bits, and of exactly 32768, whose bits do not follow.
steep = np.where(np.indices((80, 80)).sum(axis=0) % 2 == 0, 65535, 0).astype(np.uint16)
steep[10], steep[11], steep[:, 5] = 32768, 0, 65535
write("own-steep-plain.dcm", steep, 16, 16)
for predictor in range(1, 8):
    name = f"own-steep-sv{predictor}.dcm"
    wrap(name, "own-steep-plain.dcm", LOSSLESS, [b"", encode(steep, 16, predictor)])
    run("dcmdjpeg", name, "unpacked.dcm")
    assert (pydicom.dcmread(path("unpacked.dcm")).pixel_array == steep).all(), name
    add_unpacked(name, "unpacked.dcm", "dcmdjpeg")
for interleaved in (True, False):
    name = f"own-rgb-{interleaved}.dcm"
    wrap(name, "plain-rgb.dcm", FIRST_ORDER, [b"", encode(rgb8, 8, 1, interleaved=interleaved)])
    add(name, luma(rgb8), 255, "the values that went in")

# Pieces: one or several, with and without a table of offsets, and an end mark that is missing.
values = film(greatest=4095)
stream = encode(values, 12)
template = "plain-12-16-MONOCHROME2.dcm"
half, third = len(stream) // 2 & ~1, len(stream) // 3 & ~1
for word, table in (("no-table", b""), ("table", b"\0\0\0\0")):
    wrap(f"pieces-one-{word}.dcm", template, LOSSLESS, [table, stream])
    wrap(f"pieces-two-{word}.dcm", template, LOSSLESS, [table, stream[:half], stream[half:]])
    wrap(f"pieces-three-{word}.dcm", template, LOSSLESS, [table, stream[:third], stream[third:half], stream[half:]])
    for count in ("one", "two", "three"):
        add_by_dcmdjpeg(f"pieces-{count}-{word}.dcm")
with open(path("pieces-cut-off.dcm"), "wb") as out:
    out.write(open(path("pieces-one-table.dcm"), "rb").read()[:-8])
add("pieces-cut-off.dcm", values, 4095, "the values that went in")

# JPEG with loss: 8 and 12 bits, colour in full and in half resolution, the retired progressive kinds.
for option, bits, word in (("+eb", 8, "baseline"), ("+ee", 8, "extended"), ("+ee", 12, "extended"), ("+es", 8, "spectral"), ("+es", 12, "spectral"), ("+ep", 8, "progressive")):
    for photometric in ("MONOCHROME1", "MONOCHROME2"):
        plain = f"lossy-plain-{photometric}-{bits}.dcm"
        write(plain, film(greatest=2**bits - 1), bits, 8 if bits == 8 else 16, photometric=photometric)
        name = f"lossy-{word}{bits}-{photometric}.dcm"
        run("dcmcjpeg", option, "+q", "95", plain, name)
        add_by_dcmdjpeg(name)
run("dcmcjpeg", "+eb", "+q", "95", "+s4", "plain-rgb.dcm", "lossy-rgb444.dcm")
run("dcmdjpeg", "+cp", "lossy-rgb444.dcm", "unpacked.dcm")
add("lossy-rgb444.dcm", luma(pydicom.dcmread(path("unpacked.dcm")).pixel_array), 255, "dcmdjpeg")
flat = colours().astype(float)
flat[..., 0], flat[..., 2] = flat[..., 1] * 0.9, flat[..., 1] * 0.8
write("plain-flat.dcm", flat.astype(np.uint8), 8, 8, sop=SECONDARY, photometric="RGB", PlanarConfiguration=0)
run("dcmcjpeg", "+eb", "+q", "95", "+s2", "plain-flat.dcm", "lossy-rgb422.dcm")
run("dcmdjpeg", "+cp", "lossy-rgb422.dcm", "unpacked.dcm")
add("lossy-rgb422.dcm", luma(pydicom.dcmread(path("unpacked.dcm")).pixel_array), 255, "dcmdjpeg", tolerance=1)
Image.fromarray(rgb8).save(path("rgb.jpg"), quality=95, subsampling=0)
run("img2dcm", "-q", "rgb.jpg", "img2dcm-jpeg.dcm")
add("img2dcm-jpeg.dcm", luma(np.asarray(Image.open(path("rgb.jpg")))), 255, "Pillow")
Image.fromarray(film().astype(np.uint8)).save(path("grey.jpg"), quality=95)
run("img2dcm", "-q", "grey.jpg", "img2dcm-grey-jpeg.dcm")
add("img2dcm-grey-jpeg.dcm", np.asarray(Image.open(path("grey.jpg"))), 255, "Pillow")

# Runs: dcmtk and pydicom as encoders, 8 and 16 bits, one and three values to the pixel.
for name in [*grey, "plain-rgb.dcm"]:
    word = name[len("plain-"):]
    run("dcmcrle", name, f"runs-dcmtk-{word}")
    run("dcmdrle", f"runs-dcmtk-{word}", "unpacked.dcm")
    data = pydicom.dcmread(path(name))
    data.compress(RLELossless)
    data.save_as(path(f"runs-pydicom-{word}"), write_like_original=False)
    if name == "plain-rgb.dcm":
        add(f"runs-dcmtk-{word}", luma(pydicom.dcmread(path("unpacked.dcm")).pixel_array), 255, "dcmdrle")
        add(f"runs-pydicom-{word}", luma(rgb8), 255, "the values that went in")
    else:
        add_unpacked(f"runs-dcmtk-{word}", "unpacked.dcm", "dcmdrle")
        add_unpacked(f"runs-pydicom-{word}", name, "pydicom")
# With a table of offsets, the frame in one piece.
data = pydicom.dcmread(path("runs-pydicom-12-16-MONOCHROME2.dcm"))
frame = next(generate_pixel_data_frame(data.PixelData, 1))
wrap("runs-table.dcm", template, RLELossless, [b"\0\0\0\0", frame])
run("dcmdrle", "runs-table.dcm", "unpacked.dcm")
add_unpacked("runs-table.dcm", "unpacked.dcm", "dcmdrle")

# Big endian and deflated, by dcmtk; back to little endian by dcmtk.
for name in [*grey, "plain-rgb.dcm"]:
    word = name[len("plain-"):]
    for option, kind in (("+tb", "big-endian"), ("+td", "deflated")):
        run("dcmconv", option, name, f"{kind}-{word}")
        run("dcmconv", "+te", f"{kind}-{word}", "unpacked.dcm")
        if name == "plain-rgb.dcm":
            add(f"{kind}-{word}", luma(pydicom.dcmread(path("unpacked.dcm")).pixel_array), 255, "dcmconv")
        else:
            add_unpacked(f"{kind}-{word}", "unpacked.dcm", "dcmconv")
# Bytes in words, by dcmtk: the order of the words' bytes is turned with them.
data = pydicom.dcmread(path("plain-8-8-MONOCHROME2.dcm"))
data["PixelData"].VR = "OW"
data.save_as(path("words.dcm"), write_like_original=False)
run("dcmconv", "+tb", "words.dcm", "big-endian-words.dcm")
run("dcmconv", "+te", "big-endian-words.dcm", "unpacked.dcm")
add_unpacked("big-endian-words.dcm", "unpacked.dcm", "dcmconv")
# Not packed at all, but in a piece, by pydicom.
data = pydicom.dcmread(path(template))
wrap("pieces-plain.dcm", template, "1.2.840.10008.1.2.1.98", [b"", data.PixelData])
add_unpacked("pieces-plain.dcm", template, "pydicom")

done()
