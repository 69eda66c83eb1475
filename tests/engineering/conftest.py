"""The sums' property tests prove laws, not speed: a busy machine must not fail them."""

from hypothesis import settings

settings.register_profile("laws", deadline=None)
settings.load_profile("laws")
