"""What is not there is not looked into for examples."""

from importlib.util import find_spec

collect_ignore = [] if find_spec("clips") else ["clips_chainer.py"]
