/**
 * One {@link io.evenwarm.link.Link} interface over TLS, a serial line, a local socket, or memory.
 *
 * <p>Carries messages and judges who is at the other end; decides nothing about cabinets.
 */
@NullMarked
package io.evenwarm.link;

import org.jspecify.annotations.NullMarked;
