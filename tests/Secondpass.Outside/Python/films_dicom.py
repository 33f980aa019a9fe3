"""DICOM films by pydicom and dcmtk; stored values read back by pydicom, pictures on a screen by dcm2pnm.

Beside film_files' entries: "shown": a file of bytes, the film as dcm2pnm shows it with the file's first window, or from
its smallest to its greatest value; "meaning" and "spacing": what DICOM PS3.3, 10.7.1 says of the file's scale.
"""
import subprocess

import numpy as np
import pydicom
from PIL import Image
from pydicom.dataset import Dataset
from pydicom.sequence import Sequence
from pydicom.uid import ExplicitVRLittleEndian, ImplicitVRLittleEndian

from dicom_files import INTRA_ORAL, SECONDARY, add_grey, kept, shown, signed, write
from film_files import add, add_refused, colours, done, film, luma, path

grey12 = film(greatest=4095)

# Depth, sign, both ways to name what is white, both uncompressed little endian syntaxes.
for syntax, word in ((ExplicitVRLittleEndian, "explicit"), (ImplicitVRLittleEndian, "implicit")):
    for photometric in ("MONOCHROME1", "MONOCHROME2"):
        for bits, allocated in ((8, 8), (8, 16), (10, 16), (12, 16), (16, 16)):
            values = film(greatest=2**bits - 1)
            write(f"{word}-{photometric}-{bits}in{allocated}.dcm", values, bits, allocated, syntax, photometric=photometric)
            add_grey(f"{word}-{photometric}-{bits}in{allocated}.dcm")
        for bits in (8, 12, 16):
            name = f"{word}-{photometric}-signed{bits}.dcm"
            write(name, signed(film(greatest=2**bits - 1), bits), bits, 8 if bits == 8 else 16, syntax, photometric=photometric)
            add_grey(name)

# Rescale and window, rising and falling. Whole slopes, because dcm2pnm rounds the output of a rescale to whole numbers.
for number, (slope, intercept, centre, width, photometric) in enumerate((
        (1, 0, 2000, 1500, "MONOCHROME2"), (2, -1000, 3000, 4000, "MONOCHROME2"), (4, 100, 9000, 6000, "MONOCHROME2"),
        (1, 0, 2000, 1500, "MONOCHROME1"), (8, -8, 13000, 9333, "MONOCHROME1"), (-1, 4095, 2000, 1500, "MONOCHROME2"),
        (-2, 0, -4000, 3000, "MONOCHROME1"))):
    name = f"rescale{number}.dcm"
    write(name, grey12, photometric=photometric, RescaleSlope=slope, RescaleIntercept=intercept, RescaleType="US",
          WindowCenter=centre, WindowWidth=width)
    add_grey(name)
write("window-signed.dcm", signed(grey12, 12), WindowCenter=-100, WindowWidth=1500)
add_grey("window-signed.dcm")
write("window-several.dcm", grey12, WindowCenter=[1500, 2500], WindowWidth=[1001, 500])
add_grey("window-several.dcm")

# The value need not begin at bit 0.
data = write("high-bit.dcm", (grey12 << 4).astype(np.uint16), bits=12)
data.HighBit = 15
data.save_as(path("high-bit.dcm"), write_like_original=False)
add("high-bit.dcm", pydicom.dcmread(path("high-bit.dcm")).pixel_array >> 4, 4095, "pydicom", shown=shown("high-bit.dcm", False))

# Sequences of defined and undefined length, one in the other, private ones among them.
inner = Dataset()
inner.CodeValue, inner.CodingSchemeDesignator, inner.CodeMeaning = "16", "ISO3950", "tooth"
outer = Dataset()
outer.PrimaryAnatomicStructureSequence = Sequence([inner, inner])
outer.Rows = 7
for undefined in (False, True):
    for syntax, word in ((ExplicitVRLittleEndian, "explicit"), (ImplicitVRLittleEndian, "implicit")):
        name = f"sequences-{word}-{undefined}.dcm"
        sequence = Sequence([outer, outer])
        data = write(name, grey12, syntax=syntax)
        data.AnatomicRegionSequence = sequence
        data.add_new(0x00090010, "LO", "INVENTED")
        data.add_new(0x00091001, "SQ", Sequence([outer]))
        for tag in (0x00082218, 0x00091001):
            data[tag].is_undefined_length = undefined
            for item in data[tag].value:
                item.is_undefined_length_sequence_item = undefined
                item[0x00082228].is_undefined_length = undefined
        data.save_as(path(name), write_like_original=False)
        add_grey(name)

# Scale: PS3.3, 10.7.1.1 and 10.7.1.2; the estimated magnification of the X-ray acquisition divides what is known at the detector only.
for number, (elements, meaning, spacing) in enumerate((
        (dict(), None, None),
        (dict(ImagerPixelSpacing=[0.03, 0.03]), "AtDetector", 0.03),
        (dict(ImagerPixelSpacing=[0.03, 0.03], PixelSpacing=[0.03, 0.03]), "AtDetector", 0.03),
        (dict(ImagerPixelSpacing=[0.03, 0.03], PixelSpacing=[0.028, 0.028]), "AtObject", 0.028),
        (dict(ImagerPixelSpacing=[0.03, 0.03], PixelSpacing=[0.028, 0.028], PixelSpacingCalibrationType="FIDUCIAL",
              PixelSpacingCalibrationDescription="invented"), "AtObject", 0.028),
        (dict(PixelSpacing=[0.028, 0.028], PixelSpacingCalibrationType="GEOMETRY", PixelSpacingCalibrationDescription="invented"), "AtObject", 0.028),
        (dict(PixelSpacing=[0.028, 0.028]), "Unstated", 0.028),
        (dict(ImagerPixelSpacing=[0.033, 0.033], EstimatedRadiographicMagnificationFactor=1.1), "AtObject", 0.03),
        (dict(ImagerPixelSpacing=[0.033, 0.033], EstimatedRadiographicMagnificationFactor=1), "AtDetector", 0.033),
        (dict(NominalScannedPixelSpacing=[0.05, 0.05]), "AtDetector", 0.05))):
    name = f"spacing{number}.dcm"
    write(name, grey12, sop=INTRA_ORAL if "NominalScannedPixelSpacing" not in elements else SECONDARY, **elements)
    add_grey(name, meaning, spacing)

# Colour secondary captures, by pixel and by plane.
rgb8 = colours().astype(np.uint8)
write("rgb-by-pixel.dcm", rgb8, 8, 8, sop=SECONDARY, photometric="RGB", PlanarConfiguration=0)
add("rgb-by-pixel.dcm", luma(pydicom.dcmread(path("rgb-by-pixel.dcm")).pixel_array), 255, "pydicom")
write("rgb-by-plane.dcm", np.ascontiguousarray(rgb8.transpose(2, 0, 1)), 8, 8, sop=SECONDARY, photometric="RGB", PlanarConfiguration=1)
add("rgb-by-plane.dcm", luma(pydicom.dcmread(path("rgb-by-plane.dcm")).pixel_array), 255, "pydicom")

# dcmtk as the writer.
write("plain.dcm", grey12, ImagerPixelSpacing=[0.03, 0.03], WindowCenter=2000, WindowWidth=1500)
for options, word in (
        (["+ti"], "implicit"), (["+te"], "explicit"), (["+te", "-e"], "undefined-length"), (["+ti", "-e"], "implicit-undefined-length")):
    name = f"dcmconv-{word}.dcm"
    subprocess.run(["dcmconv", *options, path("sequences-explicit-False.dcm"), path(name)], check=True)
    add_grey(name)
for option, word in (("+ti", "implicit"), ("+te", "explicit")):
    name = f"dcmconv-no-header-{word}.dcm"
    subprocess.run(["dcmconv", "-F", option, path("plain.dcm"), path(name)], check=True)
    values, greatest = kept("plain.dcm")
    add(name, values, greatest, "pydicom", meaning="AtDetector", spacing=0.03)
Image.fromarray(rgb8).save(path("rgb.bmp"))
subprocess.run(["img2dcm", "-q", "-i", "BMP", path("rgb.bmp"), path("img2dcm-bmp.dcm")], check=True)
add("img2dcm-bmp.dcm", luma(np.asarray(Image.open(path("rgb.bmp")))), 255, "Pillow")

for command, name, encoding in (
        (["dcmcjpls", "+el"], "jpegls.dcm", "JPEG-LS lossless” (transfer syntax 1.2.840.10008.1.2.4.80"),
        (["dcmcjpls", "+en"], "jpegls-near.dcm", "JPEG-LS near-lossless” (transfer syntax 1.2.840.10008.1.2.4.81")):
    subprocess.run([*command, path("plain.dcm"), path(name)], check=True)
    add_refused(name, f"This DICOM file uses the encoding “{encoding}), which is not read here.", "dcmtk")

write("frames.dcm", np.vstack([grey12, grey12]), NumberOfFrames=2)
data = pydicom.dcmread(path("frames.dcm"))
data.Rows = data.Rows // 2
data.save_as(path("frames.dcm"))
add_refused("frames.dcm", "This DICOM file holds 2 pictures (frames); a film is one picture.", "pydicom")

data = pydicom.dcmread(path("plain.dcm"))
del data.PixelData
data.save_as(path("no-pixels.dcm"))
add_refused("no-pixels.dcm", "This DICOM file holds no picture.", "pydicom")

done()
