"""The commands of the kit: the working copy, JupyterLab, and the check of what it needs."""
