"""The screen in a browser on the bench tablet: who may come in, what is served, one program a tab.

Loaded by the command `serve` alone; the web server and the terminal in the browser come with the
extra of that name.
"""
