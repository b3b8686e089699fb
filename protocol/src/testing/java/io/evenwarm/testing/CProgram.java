package io.evenwarm.testing;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;

/** C that belongs to a test, compiled by the system's compiler. */
public final class CProgram {

    private CProgram() {}

    /** Skips the test, naming the packages, where there is no compiler. */
    public static void need(String untested) {
        Tools.need("cc", untested, "gcc and libc6-dev");
    }

    /**
     * Compiles a program. As strict a compiler as there is: it must compile on any
     * microcontroller's, too.
     *
     * @param into the file to make
     */
    public static Path strictly(Path into, Path... sources)
            throws IOException, InterruptedException {
        return compile(List.of("-std=c99", "-pedantic", "-Wconversion"), into, List.of(), sources);
    }

    /**
     * Compiles a layer between a process and its system's library, to be loaded before that.
     *
     * @param into the file to make
     */
    public static Path layer(Path into, Path source) throws IOException, InterruptedException {
        return compile(
                List.of("-std=gnu11", "-O2", "-fPIC", "-shared"),
                into,
                List.of("-ldl", "-pthread"),
                source);
    }

    private static Path compile(
            List<String> options, Path into, List<String> libraries, Path... sources)
            throws IOException, InterruptedException {
        List<String> command = new ArrayList<>(List.of("cc", "-Wall", "-Wextra", "-Werror"));
        command.addAll(options);
        command.addAll(List.of("-o", into.toString()));
        Stream.of(sources).map(Path::toString).forEach(command::add);
        command.addAll(libraries);
        Process cc = new ProcessBuilder(command).redirectErrorStream(true).start();
        String said = new String(cc.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        assertEquals(0, cc.waitFor(), said);
        return into;
    }
}
