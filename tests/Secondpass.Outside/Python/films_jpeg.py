"""JPEG films by OpenCV and Pillow (both libjpeg-turbo) and dcmtk (IJG, 8 and 12 bits); read back by the same libraries."""
import subprocess

import cv2
import numpy as np
import pydicom
from PIL import Image, ImageOps
from pydicom.dataset import FileDataset, FileMetaDataset
from pydicom.encaps import generate_pixel_data_frame
from pydicom.uid import ExplicitVRLittleEndian, generate_uid

from film_files import add, add_refused, colours, done, film, luma, path

grey8 = film().astype(np.uint8)
rgb8 = colours().astype(np.uint8)


def by_cv2(name):
    return cv2.imread(path(name), cv2.IMREAD_UNCHANGED)


for quality in (30, 75, 95, 100):
    name = f"opencv-grey-q{quality}.jpg"
    cv2.imwrite(path(name), grey8, [cv2.IMWRITE_JPEG_QUALITY, quality])
    add(name, by_cv2(name), 255, "OpenCV")
    name = f"opencv-progressive-q{quality}.jpg"
    cv2.imwrite(path(name), grey8, [cv2.IMWRITE_JPEG_QUALITY, quality, cv2.IMWRITE_JPEG_PROGRESSIVE, 1])
    add(name, by_cv2(name), 255, "OpenCV")

for interval in (1, 4, 17):
    for progressive in (0, 1):
        name = f"opencv-restart{interval}-{progressive}.jpg"
        cv2.imwrite(path(name), grey8, [cv2.IMWRITE_JPEG_RST_INTERVAL, interval, cv2.IMWRITE_JPEG_PROGRESSIVE, progressive])
        add(name, by_cv2(name), 255, "OpenCV")

for width, height in ((64, 64), (65, 71), (72, 129)):
    name = f"pillow-{width}x{height}.jpg"
    Image.fromarray(film(width, height).astype(np.uint8)).save(path(name), quality=85, optimize=True)
    add(name, np.asarray(Image.open(path(name))), 255, "Pillow")

# Colour in full resolution is exact; with smaller colour channels the reference smooths them between pixels and we repeat
# them, which for a picture of one hue comes to one step of rounding.
for progressive in (False, True):
    name = f"pillow-rgb444-{progressive}.jpg"
    Image.fromarray(rgb8).save(path(name), quality=90, subsampling=0, progressive=progressive)
    add(name, luma(np.asarray(Image.open(path(name)))), 255, "Pillow")
    for subsampling, word in ((1, "422"), (2, "420")):
        name = f"pillow-grey-as-rgb{word}-{progressive}.jpg"
        Image.fromarray(np.dstack([grey8] * 3)).save(path(name), quality=90, subsampling=subsampling, progressive=progressive)
        add(name, luma(np.asarray(Image.open(path(name)))), 255, "Pillow")
        name = f"pillow-rgb{word}-{progressive}.jpg"
        flat = colours().astype(float)
        flat[..., 0] = flat[..., 1] * 0.9
        flat[..., 2] = flat[..., 1] * 0.8
        Image.fromarray(flat.astype(np.uint8)).save(path(name), quality=90, subsampling=subsampling, progressive=progressive)
        add(name, luma(np.asarray(Image.open(path(name)))), 255, "Pillow", tolerance=1)

for orientation in range(1, 9):
    name = f"orientation{orientation}.jpg"
    exif = Image.Exif()
    exif[274] = orientation
    Image.fromarray(grey8).save(path(name), quality=95, exif=exif)
    add(name, np.asarray(ImageOps.exif_transpose(Image.open(path(name)))), 255, "Pillow")

Image.fromarray(grey8).save(path("pillow-1016dpi.jpg"), dpi=(1016, 1016))
add("pillow-1016dpi.jpg", np.asarray(Image.open(path("pillow-1016dpi.jpg"))), 255, "Pillow", spacing=25.4 / 1016)

Image.fromarray(rgb8).convert("CMYK").save(path("pillow-cmyk.jpg"))
add_refused("pillow-cmyk.jpg", "This JPEG file uses printing colours (CMYK), which is not read here.", "Pillow")


def dicom(name, values, bits):
    meta = FileMetaDataset()
    meta.MediaStorageSOPClassUID = "1.2.840.10008.5.1.4.1.1.7"
    meta.MediaStorageSOPInstanceUID = generate_uid(entropy_srcs=[name])
    meta.TransferSyntaxUID = ExplicitVRLittleEndian
    data = FileDataset(path(name), {}, file_meta=meta, preamble=b"\0" * 128, is_little_endian=True, is_implicit_VR=False)
    data.SOPClassUID, data.SOPInstanceUID = meta.MediaStorageSOPClassUID, meta.MediaStorageSOPInstanceUID
    data.Rows, data.Columns = values.shape
    data.SamplesPerPixel, data.PhotometricInterpretation, data.PixelRepresentation = 1, "MONOCHROME2", 0
    data.BitsAllocated, data.BitsStored, data.HighBit = (8 if bits == 8 else 16), bits, bits - 1
    data.PixelData = values.astype("u1" if bits == 8 else "<u2").tobytes()
    data.save_as(path(name), write_like_original=False)


# The coded picture is taken out of a compressed DICOM file; dcmdjpeg says what its values are.
for bits, option, word in (
        (8, "+eb", "baseline"), (8, "+ee", "extended"), (12, "+ee", "extended"),
        (8, "+ep", "progressive"), (12, "+ep", "progressive"), (8, "+es", "spectral"), (12, "+es", "spectral")):
    name = f"dcmtk-{word}{bits}.jpg"
    dicom("plain.dcm", film(greatest=2**bits - 1), bits)
    packing = subprocess.run(["dcmcjpeg", option, "+q", "95", path("plain.dcm"), path("packed.dcm")], capture_output=True, text=True)
    if packing.returncode != 0 and word == "progressive":
        continue
    packing.check_returncode()
    packed = pydicom.dcmread(path("packed.dcm"))
    frame = next(generate_pixel_data_frame(packed.PixelData, 1))
    with open(path(name), "wb") as out:
        out.write(frame)
    subprocess.run(["dcmdjpeg", path("packed.dcm"), path("unpacked.dcm")], check=True)
    add(name, pydicom.dcmread(path("unpacked.dcm")).pixel_array, 2**bits - 1, "dcmtk")

# Without loss, by dcmtk: every predictor, in whole cells.
for bits in (8, 16):
    dicom("plain.dcm", film(greatest=2**bits - 1), bits)
    for predictor in range(1, 8):
        name = f"dcmtk-lossless{bits}-sv{predictor}.jpg"
        subprocess.run(["dcmcjpeg", "+el", "+sv", str(predictor), path("plain.dcm"), path("packed.dcm")], check=True)
        with open(path(name), "wb") as out:
            out.write(next(generate_pixel_data_frame(pydicom.dcmread(path("packed.dcm")).PixelData, 1)))
        subprocess.run(["dcmdjpeg", path("packed.dcm"), path("unpacked.dcm")], check=True)
        add(name, pydicom.dcmread(path("unpacked.dcm")).pixel_array, 2**bits - 1, "dcmtk")

dicom("plain.dcm", film(greatest=4095), 12)
subprocess.run(["dcmcjpls", "+el", path("plain.dcm"), path("packed.dcm")], check=True)
with open(path("dcmtk-jpegls.jpg"), "wb") as out:
    out.write(next(generate_pixel_data_frame(pydicom.dcmread(path("packed.dcm")).PixelData, 1)))
add_refused("dcmtk-jpegls.jpg", "This JPEG file uses JPEG-LS, which is not read here.", "dcmtk")

done()
