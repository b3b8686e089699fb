package io.evenwarm.monitor.app;

import io.evenwarm.message.AgentName;
import io.evenwarm.monitor.app.MonitorSettings.AgentEntry;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.List;
import java.util.Optional;

/** Puts a paired agent at the end of the settings file, whose other text stays as it is. */
final class SettingsAppender {

    private final Path file;
    private final Folders folders;

    SettingsAppender(Path file, Folders folders) {
        this.file = file;
        this.folders = folders;
    }

    /** The table that says how the agent is reached. */
    static String block(AgentName name, Route route) {
        return "\n[[agent]]\nname = "
                + quoted(name.value())
                + "\n"
                + route.fold(
                        tls ->
                                "address = "
                                        + quoted(tls.where())
                                        + "\nkey = "
                                        + quoted(tls.key().toString())
                                        + "\n",
                        serial ->
                                "serial = "
                                        + quoted(serial.port())
                                        + "\nbaud = "
                                        + serial.baud()
                                        + "\n"
                                        + serial.key()
                                                .map(
                                                        key ->
                                                                "key = "
                                                                        + quoted(key.toString())
                                                                        + "\n")
                                                .orElse(""));
    }

    /**
     * Adds the agent unless the settings have it, just so, already. On return the file survives a
     * power cut.
     *
     * @return why it was not added, for a person; empty when it stands there now
     */
    Optional<String> add(AgentName name, Route route) throws IOException {
        String before = Files.exists(file) ? Files.readString(file) : "";
        String after = before + (before.isEmpty() || before.endsWith("\n") ? "" : "\n");
        String whole = after + block(name, route);
        AgentEntry wanted = new AgentEntry(name, route);
        if (entries(before).stream().anyMatch(wanted::equals)) {
            return Optional.empty();
        }
        if (entries(whole).stream().noneMatch(wanted::equals)) {
            return Optional.of(
                    "the settings "
                            + file
                            + " have an agent of that name or address already, or a fault. Put"
                            + " this there yourself, in place of the old one:\n"
                            + block(name, route));
        }
        write(whole);
        return Optional.empty();
    }

    private List<AgentEntry> entries(String text) {
        return SettingsReader.parse(file, text, folders)
                .fold(accepted -> accepted.value().agents(), rejected -> List.of());
    }

    private void write(String text) throws IOException {
        Path target = Files.exists(file) ? file.toRealPath() : file.toAbsolutePath();
        Path folder = target.getParent();
        if (folder != null) {
            Files.createDirectories(folder);
        }
        Path fresh = target.resolveSibling(target.getFileName() + ".new");
        try (FileChannel channel =
                FileChannel.open(
                        fresh,
                        StandardOpenOption.CREATE,
                        StandardOpenOption.TRUNCATE_EXISTING,
                        StandardOpenOption.WRITE)) {
            ByteBuffer octets = ByteBuffer.wrap(text.getBytes(StandardCharsets.UTF_8));
            while (octets.hasRemaining()) {
                channel.write(octets);
            }
            channel.force(true);
        }
        Files.move(
                fresh, target, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    }

    /** A basic string of TOML 1.0. */
    private static String quoted(String text) {
        return '"' + text.replace("\\", "\\\\").replace("\"", "\\\"") + '"';
    }
}
