/**
 * What tests of several modules share: every module compiles it into its own tests. It knows the
 * protocol's packages and no module's tests, and must not hold tests itself: they would run in each
 * module.
 */
@NullMarked
package io.evenwarm.testing;

import org.jspecify.annotations.NullMarked;
