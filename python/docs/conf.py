"""Settings of the documentation site: ``sphinx-build -W python/docs target/docs``."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

import poulter

project = "Poulter"
author = "the authors of Poulter"
copyright = author
version = release = poulter.__version__
language = "en"

extensions = ["myst_parser", "sphinx.ext.autodoc", "sphinx.ext.napoleon", "from_schema"]
myst_enable_extensions = ["colon_fence"]
nitpicky = False
# The word `list` as a type is also the name of two attributes; such a type is shown without a link.
suppress_warnings = ["ref.python"]
autodoc_typehints = "none"
autodoc_member_order = "bysource"
autodoc_default_options = {"members": True, "show-inheritance": True}
python_display_short_literal_types = True

html_theme = "furo"
html_title = f"Poulter {version}"
html_show_sphinx = False
html_copy_source = False
exclude_patterns = ["_build"]
