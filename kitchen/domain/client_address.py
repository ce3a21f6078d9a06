"""From where a request comes, as far as it can be trusted: the last hop that is not one of the site's own proxies."""

from __future__ import annotations

import ipaddress
from collections.abc import Sequence
from dataclasses import dataclass

Address = ipaddress.IPv4Address | ipaddress.IPv6Address
Network = ipaddress.IPv4Network | ipaddress.IPv6Network

IPV6_PREFIX = 64
"""One customer of a provider has a whole network of so many bits (RFC 6177, from memory): all its addresses are one."""

UNKNOWN = "unknown"


@dataclass(frozen=True)
class Origin:
    """Where a request comes from: the address itself, and the network that is counted as one."""

    address: str
    network: str


def origin_of(remote: str, forwarded: str, trusted: Sequence[Network]) -> Origin:
    """Return where a request comes from.

    Parameters
    ----------
    remote : str
        The address that the connection itself has.
    forwarded : str
        What ``X-Forwarded-For`` says. It is read from its end, and only as long as trusted hops wrote it.
    trusted : sequence of networks
        Where the site's own proxies stand.

    Examples
    --------
    >>> proxies = [ipaddress.ip_network("10.0.0.0/8")]
    >>> origin_of("10.0.0.2", "198.51.100.7, 203.0.113.9", proxies).address
    '203.0.113.9'
    >>> origin_of("203.0.113.9", "198.51.100.7", proxies).address
    '203.0.113.9'
    >>> origin_of("2001:db8:1:2:3::4", "", proxies).network
    '2001:db8:1:2::/64'
    """
    found = read_address(remote)
    if found is None:
        return Origin(UNKNOWN, UNKNOWN)
    for hop in reversed(forwarded.split(",")):
        if not any(found in network for network in trusted if network.version == found.version):
            break
        said = read_address(hop)
        if said is None:
            break
        found = said
    return Origin(str(found), _network(found))


def read_address(text: str) -> Address | None:
    """Return the address that a text names, with or without a port; None where it names none.

    Examples
    --------
    >>> read_address("[2001:db8::1]:443"), read_address("::ffff:192.0.2.1"), read_address("kettle")
    (IPv6Address('2001:db8::1'), IPv4Address('192.0.2.1'), None)
    """
    bare = text.strip()
    if bare.startswith("["):
        bare = bare[1:].partition("]")[0]
    elif bare.count(":") == 1:
        bare = bare.partition(":")[0]
    try:
        found = ipaddress.ip_address(bare.partition("%")[0])
    except ValueError:
        return None
    mapped = found.ipv4_mapped if isinstance(found, ipaddress.IPv6Address) else None
    return mapped or found


def _network(address: Address) -> str:
    if isinstance(address, ipaddress.IPv4Address):
        return str(address)
    return str(ipaddress.ip_network((address, IPV6_PREFIX), strict=False))
