"""What a tool was given at the command line. --help tells what it does, and does nothing."""

import argparse


def given(doc, *names):
    """Options of a tool. doc: what it says at its top; names: each a place ('file', '[file]' where
    it may be left out, 'files...' for any number) or an option such as '--write'.
    """
    how = argparse.RawDescriptionHelpFormatter
    parser = argparse.ArgumentParser(description=doc, formatter_class=how, allow_abbrev=False)
    for name in names:
        if name.startswith("--"):
            parser.add_argument(name, action="store_true")
        else:
            nargs = "*" if name.endswith("...") else "?" if name.startswith("[") else None
            parser.add_argument(name.strip("[]."), nargs=nargs)
    return parser.parse_args()
