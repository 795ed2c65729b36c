"""Every circuit, by theme; importing the package registers them."""

from . import amplifiers, extremes, output_stages, passive, radio, silicon  # noqa: F401
