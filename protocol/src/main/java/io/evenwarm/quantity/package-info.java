/**
 * Physical quantities as small validated records: a value that exists is a value that makes sense.
 *
 * <p>Nothing here may hold NaN or infinity, know of a probe, or depend on another package. Any
 * thread may use these; all are immutable.
 */
@NullMarked
package io.evenwarm.quantity;

import org.jspecify.annotations.NullMarked;
