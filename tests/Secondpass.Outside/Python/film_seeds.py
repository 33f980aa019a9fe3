"""Writes the small sound films that tests/Secondpass.Faults/HostileFiles/Seeds holds, by other people's software.

Run by hand when a kind of file is added: /usr/bin/python3 film_seeds.py FOLDER. They are kept, so that what was found
with them once can be found again.
"""
import subprocess

import cv2
import numpy as np
import pydicom
import tifffile
from PIL import Image
from PIL.PngImagePlugin import PngInfo
from pydicom.dataset import Dataset, FileDataset, FileMetaDataset
from pydicom.encaps import generate_pixel_data_frame, itemize_fragment
from pydicom.sequence import Sequence
from pydicom.uid import ExplicitVRLittleEndian, ImplicitVRLittleEndian, generate_uid

from dicom_files import table
from film_files import colours, film, path
from lossless_jpeg import encode

W, H = 70, 66
grey8, grey16, grey12 = film(W, H).astype(np.uint8), film(W, H, 65535), film(W, H, 4095)
rgb8 = colours(W, H).astype(np.uint8)

Image.fromarray(grey8).save(path("grey8.png"), dpi=(1016, 1016))
cv2.imwrite(path("grey16.png"), grey16)
Image.fromarray(rgb8).save(path("rgb8.png"))
Image.fromarray(np.dstack([rgb8, grey8]), "RGBA").save(path("rgba8.png"))
Image.fromarray(rgb8).quantize(16).save(path("palette4.png"))
Image.fromarray((grey8 > 128).astype(np.uint8) * 255).convert("1").save(path("grey1.png"))

# A straightened photograph: its marks, size and how far they err stand in a text.
said = PngInfo()
said.add_text("Straightened photograph of a film", "0f" * 32 + " 120 90 640 60 700 850 60 760 31 41 4.5 0.012")
Image.fromarray(grey16).save(path("straightened.png"), dpi=(423, 423), pnginfo=said)

cv2.imwrite(path("grey.jpg"), grey8, [cv2.IMWRITE_JPEG_QUALITY, 90])
cv2.imwrite(path("progressive.jpg"), grey8, [cv2.IMWRITE_JPEG_QUALITY, 90, cv2.IMWRITE_JPEG_PROGRESSIVE, 1])
cv2.imwrite(path("restart.jpg"), grey8, [cv2.IMWRITE_JPEG_QUALITY, 90, cv2.IMWRITE_JPEG_RST_INTERVAL, 5])
Image.fromarray(rgb8).save(path("rgb420.jpg"), quality=85)
Image.fromarray(rgb8).save(path("rgb444-progressive.jpg"), quality=85, subsampling=0, progressive=True, dpi=(1016, 1016))
exif = Image.Exif()
exif[274] = 6
Image.fromarray(grey8).save(path("turned.jpg"), quality=85, exif=exif)

for compression in (None, "tiff_lzw", "tiff_adobe_deflate", "packbits"):
    Image.fromarray(grey8).save(path(f"{compression or 'none'}.tif"), compression=compression, dpi=(1016, 1016))
cv2.imwrite(path("lzw-predictor16.tif"), grey16)
Image.fromarray(rgb8).save(path("rgb-lzw.tif"), compression="tiff_lzw")
tifffile.imwrite(path("tiles16-big-endian.tif"), grey16, byteorder=">", tile=(32, 32), photometric="minisblack")
tifffile.imwrite(path("white-is-zero-strips.tif"), grey8, rowsperstrip=9, photometric="miniswhite", extratags=[(274, 3, 1, 8, True)])

Image.fromarray(grey8).save(path("grey8.bmp"), dpi=(0, 0))
Image.fromarray(rgb8).save(path("rgb24.bmp"), dpi=(1016, 1016))
Image.fromarray(np.dstack([rgb8, grey8]), "RGBA").save(path("rgba32.bmp"))
Image.fromarray(rgb8).quantize(16).save(path("palette4.bmp"))
Image.fromarray((grey8 > 128).astype(np.uint8) * 255).convert("1").save(path("grey1.bmp"))


def dicom(name, values, bits, syntax, photometric="MONOCHROME2", **elements):
    meta = FileMetaDataset()
    meta.MediaStorageSOPClassUID, meta.MediaStorageSOPInstanceUID = "1.2.840.10008.5.1.4.1.1.1.3", generate_uid(entropy_srcs=[name])
    meta.TransferSyntaxUID = syntax
    data = FileDataset(
        path(name), {}, file_meta=meta, preamble=b"\0" * 128, is_little_endian=True, is_implicit_VR=syntax == ImplicitVRLittleEndian)
    data.SOPClassUID, data.SOPInstanceUID = meta.MediaStorageSOPClassUID, meta.MediaStorageSOPInstanceUID
    data.PatientName, data.PatientID, data.Modality = "Invented^Name", "INVENTED-1", "IO"
    data.Rows, data.Columns = H, W
    data.SamplesPerPixel, data.PhotometricInterpretation = (3 if values.ndim == 3 else 1), photometric
    data.BitsAllocated, data.BitsStored, data.HighBit = (8 if bits <= 8 else 16), bits, bits - 1
    data.PixelRepresentation = 1 if values.dtype.kind == "i" else 0
    for keyword, value in elements.items():
        setattr(data, keyword, value)
    inner, outer = Dataset(), Dataset()
    inner.CodeValue, inner.CodingSchemeDesignator, inner.CodeMeaning = "16", "ISO3950", "tooth"
    outer.PrimaryAnatomicStructureSequence = Sequence([inner])
    data.AnatomicRegionSequence = Sequence([outer, outer])
    undefined = syntax == ImplicitVRLittleEndian
    data[0x00082218].is_undefined_length = undefined
    for item in data.AnatomicRegionSequence:
        item.is_undefined_length_sequence_item = undefined
        item[0x00082228].is_undefined_length = undefined
    data.PixelData = values.astype(values.dtype.newbyteorder("<")).tobytes()
    data.save_as(path(name), write_like_original=False)


dicom("explicit12.dcm", grey12, 12, ExplicitVRLittleEndian, ImagerPixelSpacing=[0.03, 0.03], WindowCenter=2000, WindowWidth=1500)
dicom("implicit-signed16.dcm", (grey16.astype(np.int32) - 32768).astype(np.int16), 16, ImplicitVRLittleEndian, "MONOCHROME1",
      RescaleSlope=-2, RescaleIntercept=7, WindowCenter=100, WindowWidth=20000, PixelSpacing=[0.03, 0.03])
dicom("rgb.dcm", rgb8, 8, ExplicitVRLittleEndian, "RGB", PlanarConfiguration=0)
subprocess.run(["dcmconv", "+te", "-e", path("explicit12.dcm"), path("undefined-length.dcm")], check=True)
subprocess.run(["dcmconv", "-F", "+ti", path("explicit12.dcm"), path("no-header.dcm")], check=True)
subprocess.run(["dcmcjpeg", "+ee", path("explicit12.dcm"), path("packed.dcm")], check=True)
with open(path("extended12.jpg"), "wb") as out:
    out.write(next(generate_pixel_data_frame(pydicom.dcmread(path("packed.dcm")).PixelData, 1)))
with open(path("lossless12-restart.jpg"), "wb") as out:
    out.write(encode(grey12, 12, predictor=5, bits_left_out=1, rows_to_restart=9))
with open(path("lossless-rgb.jpg"), "wb") as out:
    out.write(encode(rgb8, 8, predictor=7, interleaved=False))
for command, name, plain in (
        (["dcmcjpeg", "+el", "+sv", "6"], "lossless.dcm", "implicit-signed16.dcm"),
        (["dcmcjpeg", "+eb", "+s2"], "baseline-rgb.dcm", "rgb.dcm"),
        (["dcmcrle"], "runs.dcm", "explicit12.dcm"),
        (["dcmcrle"], "runs-rgb.dcm", "rgb.dcm"),
        (["dcmconv", "+tb"], "big-endian.dcm", "explicit12.dcm"),
        (["dcmconv", "+td"], "deflated.dcm", "explicit12.dcm")):
    subprocess.run([*command, path(plain), path(name)], check=True)

# Tables of greys, a person, a day and a tooth; a frame in three pieces behind a table of offsets.
dicom("tables.dcm", grey12, 12, ExplicitVRLittleEndian, ModalityLUTSequence=table(0, (np.linspace(0, 1, 1200) ** 0.5 * 4095).astype(int), 12),
      VOILUTSequence=table(500, (np.linspace(0, 1, 900) ** 2 * 255).astype(int), 8), SpecificCharacterSet="ISO_IR 192", StudyDate="20260203",
      PatientBirthDate="19010203", PresentationLUTShape="INVERSE")
data = pydicom.dcmread(path("explicit12.dcm"))
data.file_meta.TransferSyntaxUID = "1.2.840.10008.1.2.4.57"
stream = encode(grey12, 12, predictor=4, rows_to_restart=11)
stream += b"\0" * (len(stream) % 2)
data.PixelData = b"".join(itemize_fragment(piece) for piece in (b"\0\0\0\0", stream[:1000], stream[1000:3000], stream[3000:]))
data["PixelData"].VR, data["PixelData"].is_undefined_length = "OB", True
data.save_as(path("pieces.dcm"), write_like_original=False)

# Numbers that stand for colours, and colour differences that two pixels share.
for colour in ("Red", "Green", "Blue"):
    data = pydicom.dcmread(path("rgb.dcm")) if colour == "Red" else data
    data.add_new(f"{colour}PaletteColorLookupTableDescriptor", "US", [256, 0, 16])
    data.add_new(f"{colour}PaletteColorLookupTableData", "OW", (np.arange(256) * {"Red": 257, "Green": 200, "Blue": 100}[colour]).astype("<u2").tobytes())
data.SamplesPerPixel, data.PhotometricInterpretation, data.PixelData = 1, "PALETTE COLOR", grey8.tobytes()
del data.PlanarConfiguration
data.save_as(path("palette.dcm"), write_like_original=False)
data = pydicom.dcmread(path("rgb.dcm"))
data.PhotometricInterpretation, data.PixelData = "YBR_FULL_422", rgb8[:, :, :2].tobytes()
data.save_as(path("shared-differences.dcm"), write_like_original=False)
