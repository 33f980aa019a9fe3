"""Prints one line "module version" for each Python package that the outside checks lean on."""
import importlib

for name in ("numpy", "scipy", "PIL", "cv2", "skimage", "tifffile", "pydicom"):
    print(name, importlib.import_module(name).__version__)
