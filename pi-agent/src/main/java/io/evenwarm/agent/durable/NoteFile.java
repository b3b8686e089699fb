package io.evenwarm.agent.durable;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.zip.CRC32C;

/**
 * One small text file that is there whole or not at all, and says itself whether it is sound:
 *
 * <pre>
 * evenwarm latch 1
 * cabinet north
 * state tripped
 * reason probe top read 33.56 °C, cut-off at 33.50 °C
 * crc32c 1a2b3c4d
 * </pre>
 *
 * <p>UTF-8, one line a value, each ended by a line feed. The last line is the CRC-32C of all bytes
 * before it. It is written under another name, synced, renamed into place, and then the folder is
 * synced: a power cut leaves the old note or the new one.
 */
final class NoteFile {

    private static final String CHECKSUM = "crc32c ";

    private final SmallFiles files;
    private final Path path;

    NoteFile(SmallFiles files, Path path) {
        this.files = files;
        this.path = path;
    }

    Path path() {
        return path;
    }

    /**
     * The lines but the checksum's; empty when there is no such file.
     *
     * @throws IOException when it can't be read or is not sound; the message says what was found
     */
    Optional<List<String>> read() throws IOException {
        Optional<byte[]> content = files.read(path);
        return content.isEmpty() ? Optional.empty() : Optional.of(checked(content.get()));
    }

    /** Makes something of a note's lines. */
    @FunctionalInterface
    interface Parsing<T> {
        /**
         * What they mean.
         *
         * @throws IOException when they are not what was expected; the message says what they are
         */
        T of(List<String> lines) throws IOException;
    }

    /**
     * What a note holds that can be done without; empty when there is none, and when it is not
     * sound, which the log tells. Never throws.
     *
     * @param log of whoever asks
     * @param what can't be read, and what comes of that, for the log
     */
    <T> Optional<T> readIfSound(Parsing<T> parsing, System.Logger log, String what) {
        try {
            Optional<List<String>> lines = read();
            return lines.isPresent() ? Optional.of(parsing.of(lines.get())) : Optional.empty();
        } catch (IOException | RuntimeException e) {
            log.log(System.Logger.Level.WARNING, "{0}: {1}", what, e.getMessage());
            return Optional.empty();
        }
    }

    private List<String> checked(byte[] content) throws IOException {
        String text = decoded(content);
        int start = text.lastIndexOf(CHECKSUM);
        boolean isLineStart = start > 0 && text.charAt(start - 1) == '\n';
        if (!isLineStart) {
            throw new IOException(path + " has no checksum line: it was cut short or is not ours");
        }
        String body = text.substring(0, start);
        String found = text.substring(start);
        String expected = checksumLine(body);
        if (!found.equals(expected)) {
            throw new IOException(
                    path
                            + " is damaged: its last line is \""
                            + found.strip()
                            + "\" but its content has \""
                            + expected.strip()
                            + "\"");
        }
        return body.lines().toList();
    }

    private String decoded(byte[] content) throws IOException {
        try {
            return StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(content)).toString();
        } catch (CharacterCodingException e) {
            throw new IOException(path + " is not UTF-8 text", e);
        }
    }

    /** On return the lines survive a power cut. */
    void write(List<String> lines) throws IOException {
        StringBuilder body = new StringBuilder();
        for (String line : lines) {
            // A reason may quote anything; a line break in it must not make a line of its own.
            body.append(line.replaceAll("\\R", " ")).append('\n');
        }
        String text = body + checksumLine(body.toString());
        Path unfinished = path.resolveSibling(path.getFileName() + ".new");
        files.writeAndSync(unfinished, text.getBytes(StandardCharsets.UTF_8));
        files.rename(unfinished, path);
        files.syncFolder(folder());
    }

    private Path folder() {
        Path parent = path.getParent();
        return parent == null ? Path.of(".") : parent;
    }

    private static String checksumLine(String body) {
        CRC32C checksum = new CRC32C();
        checksum.update(body.getBytes(StandardCharsets.UTF_8));
        return CHECKSUM + HexFormat.of().toHexDigits((int) checksum.getValue()) + "\n";
    }
}
