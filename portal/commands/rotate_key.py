"""`python -m portal.commands.rotate_key`: another key for the records, with the service stopped. Prints its name."""

import sys

from portal import clock
from portal.acts.keeping.key_rotation import rotate_key
from portal.record.log.heads import Signer, key_name
from portal.settings import Settings
from portal.store.engine.opening import open_or_make
from portal.store.refusals import Refused


def main() -> int:
    settings = Settings.read()
    try:
        open_or_make(settings.database)
        told = rotate_key(settings, clock.now())
    except Refused as refusal:
        print(refusal, file=sys.stderr)
        return 1
    name = key_name(Signer(settings.record_key).public_key)
    print(f"Records that tell of the change: {len(told)}. They are signed with key {name} from now on: put that name")
    print("into the papers that you give out, and start the service again.")
    return 0


if __name__ == "__main__":
    sys.exit(main())
