"""Settings that make every test run the same way on every machine."""

import atexit
import os
import tempfile

from hypothesis import HealthCheck, configuration, settings
from hypothesis.internal.conjecture import providers

# No window is ever opened on the screen of whoever runs the tests.
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("QT_SCALE_FACTOR", "1")

# The same examples each time, none remembered, none timed: a slow machine is no failure.
_home = tempfile.TemporaryDirectory(prefix="roomboard-hypothesis-")
atexit.register(_home.cleanup)
configuration.set_hypothesis_home_dir(_home.name)
settings.register_profile(
    "roomboard",
    derandomize=True,
    database=None,
    deadline=None,
    print_blob=False,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("roomboard")

# Examples are also drawn from the constants of whatever modules happen to be imported, so they
# would differ with the tests chosen and with how workers share them. No setting turns that off.
if hasattr(providers, "_get_local_constants"):
    providers._get_local_constants = providers.Constants
