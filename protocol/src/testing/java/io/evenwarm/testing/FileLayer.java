package io.evenwarm.testing;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.sqlite.util.OSInfo;

/** {@code src/testing/native/file_layer.c}, between a process of its own and one folder's files. */
public final class FileLayer {

    private static final Path SOURCE = Path.of("../protocol/src/testing/native/file_layer.c");

    private final Path library;

    private FileLayer(Path library) {
        this.library = library;
    }

    /** Compiles it; skips the test, naming the package, where there is no compiler. */
    public static FileLayer compile(Path into) throws IOException, InterruptedException {
        CProgram.need("power cuts");
        return new FileLayer(CProgram.layer(into.resolve("file_layer.so"), SOURCE));
    }

    /**
     * What makes a Java program take SQLite's library from a folder: each one that is killed would
     * leave its own copy behind, among the system's temporary files.
     */
    public static List<String> sqliteFrom(Path folder) throws IOException {
        String name = System.mapLibraryName("sqlitejdbc");
        Path library = folder.resolve(name);
        if (!Files.exists(library)) {
            String resource =
                    "/org/sqlite/native/"
                            + OSInfo.getNativeLibFolderPathForCurrentOS()
                            + "/"
                            + name;
            try (InputStream in = OSInfo.class.getResourceAsStream(resource)) {
                Files.copy(Objects.requireNonNull(in, resource), library);
            }
        }
        return List.of("-Dorg.sqlite.lib.path=" + folder, "-Dorg.sqlite.lib.name=" + name);
    }

    /** A Java program whose files in {@code folder} the layer watches; errors are inherited. */
    public ProcessBuilder java(Path folder, Class<?> program, List<String> arguments)
            throws IOException {
        List<String> command =
                new ArrayList<>(
                        List.of(
                                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                                "-XX:TieredStopAtLevel=1",
                                "-XX:+UseSerialGC"));
        command.addAll(sqliteFrom(Objects.requireNonNull(library.getParent())));
        command.addAll(List.of("-cp", System.getProperty("java.class.path"), program.getName()));
        command.addAll(arguments);
        ProcessBuilder builder =
                new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT);
        builder.environment().put("LD_PRELOAD", library.toString());
        builder.environment().put("FILE_LAYER_FOLDER", folder.toRealPath().toString());
        return builder;
    }

    /** As the other; at that call on a file the power fails. */
    public ProcessBuilder javaUntilPowerCut(
            Path folder, String database, Class<?> program, List<String> arguments, Cut cut)
            throws IOException {
        ProcessBuilder builder = java(folder, program, arguments);
        builder.environment()
                .put("FILE_LAYER_DATABASE", folder.toRealPath().resolve(database).toString());
        builder.environment().put("FILE_LAYER_CUT_AFTER", Long.toString(cut.afterCalls()));
        builder.environment().put("FILE_LAYER_SEED", Long.toUnsignedString(cut.seed()));
        return builder;
    }

    /**
     * When the power fails.
     *
     * @param afterCalls calls on watched files before it
     * @param seed of what is lost
     */
    public record Cut(long afterCalls, long seed) {}
}
