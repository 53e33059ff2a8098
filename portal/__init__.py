"""The portal: asks in time, keeps what was approved, and publishes one page for everyone."""

__version__ = "0.6.0"
