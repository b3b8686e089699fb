package io.evenwarm.monitor.web;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.security.SecureRandom;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Base64;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * Who may see the page. A person gets a link; it opens once, within a day, and gives their browser
 * a session that ends by itself. Links and sessions are 256 random bits; only their SHA-256 is
 * kept, in a file each, so that the commands at the machine and the running monitor need no lock.
 */
public final class PageAccess {

    /** A link that nobody opened is worth nothing after this. */
    public static final Duration LINK_TIME = Duration.ofHours(24);

    /** The longest session. */
    public static final int DAYS_MAX = 366;

    /** What a person may be called. */
    public static final Pattern NAME = Pattern.compile("[\\p{L}\\p{N}][\\p{L}\\p{N} ._-]{0,63}");

    private static final Pattern TOKEN = Pattern.compile("[A-Za-z0-9_-]{43}");
    private static final int TOKEN_OCTETS = 32;
    private static final String LINK = "link";
    private static final String SESSION = "session";
    private static final String END = ".txt";

    private final Path folder;
    private final SecureRandom random = new SecureRandom();

    /**
     * @param folder for links and sessions; made when needed, with rights for its owner only
     */
    public PageAccess(Path folder) {
        this.folder = folder;
    }

    /**
     * One link or session.
     *
     * @param isLink whether it is a link that nobody has opened yet
     * @param until when it ends
     */
    public record Entry(Visitor visitor, boolean isLink, Instant until) {}

    /** What stands in a file. */
    private record Kept(String kind, Instant until, int days, Visitor visitor) {

        String text() {
            return String.join(
                    "\n",
                    kind,
                    Long.toString(until.getEpochSecond()),
                    Integer.toString(days),
                    visitor.mayAcknowledge() ? "acknowledge" : "look",
                    visitor.name(),
                    "");
        }

        static Optional<Kept> read(Path file) throws IOException {
            try {
                List<String> lines = Files.readAllLines(file, StandardCharsets.UTF_8);
                return Optional.of(
                        new Kept(
                                lines.get(0),
                                Instant.ofEpochSecond(Long.parseLong(lines.get(1))),
                                Integer.parseInt(lines.get(2)),
                                new Visitor(lines.get(4), lines.get(3).equals("acknowledge"))));
            } catch (NoSuchFileException e) {
                return Optional.empty();
            } catch (IndexOutOfBoundsException | NumberFormatException e) {
                // Damaged: it lets nobody in.
                return Optional.empty();
            }
        }

        Entry entry() {
            return new Entry(visitor, kind.equals(LINK), until);
        }
    }

    /**
     * Makes a link.
     *
     * @param days how long the session lasts that it gives, 1 to {@value #DAYS_MAX}
     * @return its secret, which is kept nowhere
     */
    public String link(Visitor visitor, int days, Instant now) throws IOException {
        if (!NAME.matcher(visitor.name()).matches() || days < 1 || days > DAYS_MAX) {
            throw new IllegalArgumentException(visitor + ", " + days + " days");
        }
        String token = token();
        save(token, new Kept(LINK, now.plus(LINK_TIME), days, visitor));
        return token;
    }

    /**
     * Opens a link, which is used up by it.
     *
     * @return the session's secret and its length; empty when there is no such link, or no longer
     */
    public Optional<Opened> open(String link, Instant now) throws IOException {
        Optional<Kept> found = find(link, LINK, now);
        // Of two who open it at once one only finds the file to delete.
        if (found.isEmpty() || !Files.deleteIfExists(file(link))) {
            return Optional.empty();
        }
        String session = token();
        Duration length = Duration.ofDays(found.get().days());
        save(session, new Kept(SESSION, now.plus(length), 0, found.get().visitor()));
        return Optional.of(new Opened(session, length));
    }

    /** A session that was just begun. */
    public record Opened(String session, Duration length) {}

    /** Whether a link can be opened. Opens nothing: scanners of mail look at links, too. */
    public boolean isLink(String link, Instant now) throws IOException {
        return find(link, LINK, now).isPresent();
    }

    /** Whose session it is; empty when it is nobody's, or no longer. */
    public Optional<Visitor> visitor(String session, Instant now) throws IOException {
        return find(session, SESSION, now).map(Kept::visitor);
    }

    /** Ends a session. */
    public void leave(String session) throws IOException {
        if (TOKEN.matcher(session).matches()) {
            Files.deleteIfExists(file(session));
        }
    }

    /** All links and sessions that are still good. */
    public List<Entry> all(Instant now) throws IOException {
        List<Entry> entries = new ArrayList<>();
        for (Path file : files()) {
            Kept.read(file)
                    .filter(kept -> kept.until().isAfter(now))
                    .map(Kept::entry)
                    .ifPresent(entries::add);
        }
        return entries;
    }

    /**
     * Takes a person's links and sessions away, and forgets what has ended.
     *
     * @return how many were theirs
     */
    public int revoke(String name, Instant now) throws IOException {
        int theirs = 0;
        for (Path file : files()) {
            Optional<Kept> kept = Kept.read(file);
            boolean isTheirs = kept.filter(k -> k.visitor().name().equals(name)).isPresent();
            boolean isOver = kept.filter(k -> k.until().isAfter(now)).isEmpty();
            if ((isTheirs || isOver) && Files.deleteIfExists(file) && isTheirs && !isOver) {
                theirs++;
            }
        }
        return theirs;
    }

    private List<Path> files() throws IOException {
        if (!Files.isDirectory(folder)) {
            return List.of();
        }
        try (Stream<Path> files = Files.list(folder)) {
            return files.filter(file -> file.toString().endsWith(END)).sorted().toList();
        }
    }

    private Optional<Kept> find(String token, String kind, Instant now) throws IOException {
        if (!TOKEN.matcher(token).matches()) {
            return Optional.empty();
        }
        return Kept.read(file(token))
                .filter(kept -> kept.kind().equals(kind) && kept.until().isAfter(now));
    }

    private String token() {
        byte[] octets = new byte[TOKEN_OCTETS];
        random.nextBytes(octets);
        return Base64.getUrlEncoder().withoutPadding().encodeToString(octets);
    }

    /** Named by the secret's hash: neither the file's name nor its time of access tells it. */
    private Path file(String token) {
        try {
            byte[] hash =
                    MessageDigest.getInstance("SHA-256")
                            .digest(token.getBytes(StandardCharsets.US_ASCII));
            return folder.resolve(HexFormat.of().formatHex(hash) + END);
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }

    private void save(String token, Kept kept) throws IOException {
        Files.createDirectories(folder);
        if (Files.getFileStore(folder).supportsFileAttributeView("posix")) {
            Files.setPosixFilePermissions(folder, PosixFilePermissions.fromString("rwx------"));
        }
        Path fresh = folder.resolve("." + UUID.randomUUID());
        Files.writeString(fresh, kept.text());
        Files.move(fresh, file(token), StandardCopyOption.ATOMIC_MOVE);
    }
}
