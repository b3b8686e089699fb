package io.evenwarm.monitor.store;

import io.evenwarm.testing.Programs;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/**
 * A PostgreSQL server of the tests' own: Debian's programs on a data folder that goes with it. It
 * is started by the first test that needs it and ends with the JVM. Each test folder has a database
 * of its own.
 */
final class Postgres {

    private static final Path PROGRAMS = Path.of("/usr/lib/postgresql");
    private static final int START_SECONDS_MAX = 60;

    private static @Nullable Postgres running;

    private final int port;
    private final AtomicInteger made = new AtomicInteger();
    private final Map<Path, String> databases = new ConcurrentHashMap<>();

    private Postgres(int port) {
        this.port = port;
    }

    /** The newest version's programs; empty when the package is not there. */
    static Optional<Path> programs() {
        if (!Files.isDirectory(PROGRAMS)) {
            return Optional.empty();
        }
        try (Stream<Path> versions = Files.list(PROGRAMS)) {
            return versions.map(version -> version.resolve("bin"))
                    .filter(bin -> Files.isExecutable(bin.resolve("initdb")))
                    .max(Comparator.naturalOrder());
        } catch (IOException e) {
            return Optional.empty();
        }
    }

    /** URL of the database that belongs to a test's folder; made when first asked for. */
    static String urlOf(Path folder) {
        return running().databases.computeIfAbsent(folder, at -> running().create());
    }

    private static synchronized Postgres running() {
        Postgres there = running;
        if (there == null) {
            try {
                there = start();
            } catch (IOException e) {
                throw new AssertionError("PostgreSQL can't be started", e);
            }
            running = there;
        }
        return there;
    }

    private String url(String database) {
        return "jdbc:postgresql://127.0.0.1:" + port + "/" + database + "?user=keeper";
    }

    private String create() {
        String name = "store_" + made.incrementAndGet();
        try (Connection connection = DriverManager.getConnection(url("postgres"));
                Statement statement = connection.createStatement()) {
            statement.execute("CREATE DATABASE " + name);
        } catch (SQLException e) {
            throw new AssertionError("no database for a test", e);
        }
        return url(name);
    }

    private static Postgres start() throws IOException {
        Path bin = programs().orElseThrow();
        Path folder = Files.createTempDirectory("evenwarm-postgres");
        Path data = folder.resolve("data");
        int port = Programs.freePort();
        // The server refuses to run as root: the package's own user does it then.
        List<String> as = new ArrayList<>();
        if ("root".equals(System.getProperty("user.name"))) {
            Files.setPosixFilePermissions(folder, PosixFilePermissions.fromString("rwxrwxrwx"));
            as.addAll(List.of("runuser", "-u", "postgres", "--"));
        }
        run(
                as,
                folder,
                bin.resolve("initdb").toString(),
                "-D",
                data.toString(),
                "-U",
                "keeper",
                "--auth=trust",
                "--no-sync",
                "--encoding=UTF8",
                "--locale=C.UTF-8");
        Runtime.getRuntime().addShutdownHook(new Thread(() -> stop(as, bin, folder, data)));
        run(
                as,
                folder,
                bin.resolve("pg_ctl").toString(),
                "-D",
                data.toString(),
                "-l",
                folder.resolve("log.txt").toString(),
                "-w",
                "-t",
                Integer.toString(START_SECONDS_MAX),
                "-o",
                "-p "
                        + port
                        + " -c listen_addresses=127.0.0.1 -c fsync=off -c unix_socket_directories="
                        + folder,
                "start");
        return new Postgres(port);
    }

    private static void stop(List<String> as, Path bin, Path folder, Path data) {
        try {
            run(
                    as,
                    folder,
                    bin.resolve("pg_ctl").toString(),
                    "-D",
                    data.toString(),
                    "-m",
                    "immediate",
                    "stop");
            // A database is three hundred files, and every test has its own: nobody waits for that.
            new ProcessBuilder("rm", "-rf", folder.toString()).start();
        } catch (IOException e) {
            throw new AssertionError("PostgreSQL was not ended", e);
        }
    }

    private static void run(List<String> as, Path folder, String... command) throws IOException {
        List<String> all = new ArrayList<>(as);
        all.addAll(List.of(command));
        // To a file: the server inherits the streams and would keep a pipe open.
        Path output = Files.createTempFile("evenwarm-postgres", ".txt");
        try {
            Process process =
                    new ProcessBuilder(all)
                            .directory(folder.toFile())
                            .redirectErrorStream(true)
                            .redirectOutput(output.toFile())
                            .start();
            if (!process.waitFor(2 * START_SECONDS_MAX, TimeUnit.SECONDS)
                    || process.exitValue() != 0) {
                throw new IOException(all + ": " + Files.readString(output));
            }
        } catch (InterruptedException e) {
            throw new IOException("interrupted", e);
        } finally {
            Files.delete(output);
        }
    }
}
