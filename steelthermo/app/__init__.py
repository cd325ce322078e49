"""The door of the kit: its commands, the working copy, JupyterLab, and the check of what it needs."""
