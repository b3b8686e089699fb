package io.evenwarm.testing;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Stream;
import org.junit.jupiter.api.Assumptions;

/** Programs of the machine that some tests need. */
public final class Tools {

    private Tools() {}

    /**
     * Skips the test where a program is not installed; {@code .ci/run} fails on any that is.
     *
     * @param program its file's name
     * @param untested what is not tested without it
     * @param packages what to install
     */
    public static void need(String program, String untested, String packages) {
        Assumptions.assumeTrue(isThere(program), untested + " not tested: install " + packages);
    }

    /** Where commands are searched for, and where Debian puts servers. */
    private static boolean isThere(String program) {
        return Stream.concat(
                        Stream.of(System.getenv().getOrDefault("PATH", "").split(":")),
                        Stream.of("/usr/sbin"))
                .anyMatch(folder -> Files.isExecutable(Path.of(folder, program)));
    }
}
