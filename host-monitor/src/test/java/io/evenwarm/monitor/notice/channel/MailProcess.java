package io.evenwarm.monitor.notice.channel;

import com.icegreen.greenmail.mail.MovingMessage;
import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import io.evenwarm.clock.SystemClock;
import jakarta.mail.MessagingException;
import jakarta.mail.internet.MimeMessage;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Base64;

/**
 * The main class of a mail server in a process of its own, which a test kills. What it takes is in
 * a file before it says that it took it: a line a message, its time in milliseconds, Message-ID,
 * subject and body in base 64.
 */
public final class MailProcess {

    private MailProcess() {}

    /**
     * Takes mail until it is killed.
     *
     * @param arguments port, the certificate's key store, the file of what was taken, the address
     *     whose mail is taken
     */
    public static void main(String[] arguments) throws IOException {
        Path taken = Path.of(arguments[2]);
        GreenMail server =
                new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));
        server.start();
        server.setUser(arguments[3], "reader", "a password");
        server.getUserManager()
                .setMessageDeliveryHandler(
                        (message, address) -> {
                            write(taken, message);
                            return server.getUserManager().getUserByEmail(address.getEmail());
                        });
        // Its threads keep the process alive until it is killed.
        MailFront unused =
                new MailFront(
                        Integer.parseInt(arguments[0]),
                        server.getSmtp().getPort(),
                        TestCertificate.load(Path.of(arguments[1])).serverContext());
    }

    private static void write(Path taken, MovingMessage moving) throws MessagingException {
        MimeMessage message = moving.getMessage();
        try {
            Files.writeString(
                    taken,
                    SystemClock.wall().now().toEpochMilli()
                            + "\t"
                            + message.getMessageID()
                            + "\t"
                            + encoded(message.getSubject())
                            + "\t"
                            + encoded(message.getContent().toString())
                            + "\n",
                    StandardOpenOption.CREATE,
                    StandardOpenOption.APPEND);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static String encoded(String text) {
        return Base64.getEncoder().encodeToString(text.getBytes(StandardCharsets.UTF_8));
    }
}
