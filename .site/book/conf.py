"""How Sphinx builds the book from what `steelthermo site` lays beside this file."""

from steelthermo import __version__

project = "steelthermo"
author = "the steelthermo authors"
copyright = author
release = version = __version__
language = "en"
extensions = ["myst_nb", "sphinx.ext.autodoc", "sphinx.ext.napoleon"]
# the handout is to be read: what a program may call is looked up on the screen
exclude_patterns = ["reference.*"] if tags.has("singlehtml") else []  # noqa: F821, Sphinx's own

nb_execution_mode = "off"  # the notebooks are shown as saved
nb_merge_streams = True
nb_code_prompt_show = "Show the code"
nb_code_prompt_hide = "Fold the code"
nb_mime_priority_overrides = [("*", "text/html", 1)]
myst_enable_extensions = ["colon_fence", "deflist"]
myst_heading_anchors = 2
suppress_warnings = [
    "myst.header",
    "mystnb.unknown_mime_type",
    "misc.copy_overwrite",
    "toc.excluded",
]

autodoc_typehints = "none"  # the docstrings say what is taken
autodoc_member_order = "bysource"
napoleon_google_docstring = False
napoleon_use_rtype = False
napoleon_use_param = False  # what stands behind a name is words, no type to be looked up
add_module_names = False

html_theme = "sphinx_book_theme"
html_title = "The thermochemistry of oxygen steelmaking"
html_static_path = ["_static"]
html_css_files = ["book.css"]
html_js_files = ["wide_tables.js"]
html_extra_path = []
html_copy_source = False
html_show_sourcelink = False
html_last_updated_fmt = None
html_theme_options = {
    "show_toc_level": 2,
    "use_download_button": False,
    "home_page_in_toc": True,
    "pygments_light_style": "a11y-high-contrast-light",
    "pygments_dark_style": "a11y-high-contrast-dark",
}
