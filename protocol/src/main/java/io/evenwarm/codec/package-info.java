/**
 * Messages to and from CBOR (RFC 8949); the schema is in {@code docs/protocol.md} as CDDL (RFC
 * 8610).
 *
 * <p>Bad input ends in a value that says what was wrong, never in an exception. Knows no link and
 * no frame. Any thread may use these.
 */
@NullMarked
package io.evenwarm.codec;

import org.jspecify.annotations.NullMarked;
