"""What the scripts that write DICOM films share: pydicom as the writer and reader of stored values, dcm2pnm for what is shown."""
import subprocess

import numpy as np
import pydicom
from PIL import Image
from pydicom.dataset import FileDataset, FileMetaDataset
from pydicom.uid import ExplicitVRLittleEndian, ImplicitVRLittleEndian, generate_uid

from film_files import add, path

INTRA_ORAL = "1.2.840.10008.5.1.4.1.1.1.3"
SECONDARY = "1.2.840.10008.5.1.4.1.1.7"


def signed(values, bits):
    return (values.astype(np.int32) - 2 ** (bits - 1)).astype(np.int8 if bits <= 8 else np.int16)


def write(name, values, bits=12, allocated=16, syntax=ExplicitVRLittleEndian, sop=INTRA_ORAL, photometric="MONOCHROME2", **elements):
    meta = FileMetaDataset()
    meta.MediaStorageSOPClassUID, meta.MediaStorageSOPInstanceUID = sop, generate_uid(entropy_srcs=[name])
    meta.TransferSyntaxUID = syntax
    data = FileDataset(
        path(name), {}, file_meta=meta, preamble=b"\0" * 128, is_little_endian=True, is_implicit_VR=syntax == ImplicitVRLittleEndian)
    data.SOPClassUID, data.SOPInstanceUID = sop, meta.MediaStorageSOPInstanceUID
    data.StudyInstanceUID, data.SeriesInstanceUID = generate_uid(entropy_srcs=["study"]), generate_uid(entropy_srcs=["series"])
    data.PatientName, data.PatientID, data.Modality = "Invented^Name", "INVENTED-1", "IO"
    data.Rows, data.Columns = values.shape[:2] if values.shape[0] != 3 else values.shape[1:]
    data.SamplesPerPixel, data.PhotometricInterpretation = (3 if values.ndim == 3 else 1), photometric
    data.BitsAllocated, data.BitsStored, data.HighBit = allocated, bits, bits - 1
    data.PixelRepresentation = 1 if values.dtype.kind == "i" else 0
    for keyword, value in elements.items():
        setattr(data, keyword, value)
    kind = ("i" if values.dtype.kind == "i" else "u") + str(allocated // 8)
    data.PixelData = values.astype("<" + kind).tobytes()
    if len(data.PixelData) % 2:
        data.PixelData += b"\0"
    data.save_as(path(name), write_like_original=False)
    return data


def kept(name):
    """What is to be kept of a grey film, from pydicom's stored values and the standard's words."""
    data = pydicom.dcmread(path(name))
    bits, values = data.BitsStored, data.pixel_array.astype(np.int32)
    if data.PixelRepresentation == 1:
        values = values + 2 ** (bits - 1)
    larger_is_darker = data.PhotometricInterpretation == "MONOCHROME1"
    if larger_is_darker != (float(data.get("RescaleSlope", 1)) < 0):
        values = 2**bits - 1 - values
    return values, 2**bits - 1


def shown(name, has_window):
    subprocess.run(["dcm2pnm", "-O", "+op", *(["+Wi", "1"] if has_window else ["+Wm"]), path(name), path(name + ".pgm")], check=True)
    np.asarray(Image.open(path(name + ".pgm"))).astype(np.uint8).tofile(path(name + ".shown"))
    return name + ".shown"


def add_grey(name, meaning=None, spacing=None, show=True):
    values, greatest = kept(name)
    has_window = "WindowCenter" in pydicom.dcmread(path(name))
    add(name, values, greatest, "pydicom", shown=shown(name, has_window) if show else None, meaning=meaning, spacing=spacing)
