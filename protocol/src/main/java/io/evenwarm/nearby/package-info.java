/**
 * Agents on the local network: how one shows itself and how they are found, by multicast DNS (RFC
 * 6762) and DNS service discovery (RFC 6763).
 *
 * <p>Tells an agent's key, address and port, and nothing else. Whatever comes in here is hearsay of
 * the local network: only a link proves a key. The only place that knows JmDNS.
 */
@NullMarked
package io.evenwarm.nearby;

import org.jspecify.annotations.NullMarked;
