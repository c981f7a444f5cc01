"""`python -m tests.messages`: every message of the program, by place, with what causes it."""

from __future__ import annotations

from advisor.errors import clean_text
from tests.messages.provoke import by_site, provoked


def main() -> int:
    """Print file, line, message and cause; status 1 where a message has no cause."""
    table = by_site(provoked())
    for site, reached in table.items():
        if not reached:
            print(f"{site}: no cause: {site.call}")
            continue
        cause, built = reached[0]
        print(f"{site}: {clean_text(built.what, 160)}\n    cause: {cause.said}"
              + (f"\n    help: {clean_text(built.help, 160)}" if built.help else ""))
    missing = sum(not reached for reached in table.values())
    print(f"{len(table)} places, {len({id(cause) for reached in table.values() for cause, _ in reached})} causes, "
          f"{missing} places without one")
    return 1 if missing else 0


if __name__ == "__main__":
    raise SystemExit(main())
