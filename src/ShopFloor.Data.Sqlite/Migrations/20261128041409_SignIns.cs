using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ShopFloor.Data.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class SignIns : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "PasswordLinks",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Version = table.Column<long>(type: "INTEGER", nullable: false),
                    Person = table.Column<Guid>(type: "TEXT", nullable: false),
                    TokenHash = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false),
                    MadeBy = table.Column<Guid>(type: "TEXT", nullable: true),
                    MadeAt = table.Column<long>(type: "INTEGER", nullable: false),
                    ExpiresAt = table.Column<long>(type: "INTEGER", nullable: false),
                    ClosedAt = table.Column<long>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_PasswordLinks", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "RecoveryCodes",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Version = table.Column<long>(type: "INTEGER", nullable: false),
                    Person = table.Column<Guid>(type: "TEXT", nullable: false),
                    Hash = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false),
                    UsedAt = table.Column<long>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_RecoveryCodes", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "SecondFactors",
                columns: table => new
                {
                    Person = table.Column<Guid>(type: "TEXT", nullable: false),
                    Version = table.Column<long>(type: "INTEGER", nullable: false),
                    ProtectedSecret = table.Column<string>(type: "TEXT", maxLength: 1024, nullable: false),
                    ConfirmedAt = table.Column<long>(type: "INTEGER", nullable: true),
                    LastStep = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_SecondFactors", x => x.Person);
                });

            migrationBuilder.CreateTable(
                name: "SignInSessions",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Version = table.Column<long>(type: "INTEGER", nullable: false),
                    Person = table.Column<Guid>(type: "TEXT", nullable: false),
                    Way = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    Browser = table.Column<string>(type: "TEXT", maxLength: 80, nullable: false),
                    Network = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    BegunAt = table.Column<long>(type: "INTEGER", nullable: false),
                    SeenAt = table.Column<long>(type: "INTEGER", nullable: false),
                    EndedAt = table.Column<long>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_SignInSessions", x => x.Id);
                });

            migrationBuilder.CreateIndex(
                name: "IX_PasswordLinks_Person",
                table: "PasswordLinks",
                column: "Person");

            migrationBuilder.CreateIndex(
                name: "IX_PasswordLinks_TokenHash",
                table: "PasswordLinks",
                column: "TokenHash",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_RecoveryCodes_Person_Hash",
                table: "RecoveryCodes",
                columns: new[] { "Person", "Hash" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_SignInSessions_Network",
                table: "SignInSessions",
                column: "Network");

            migrationBuilder.CreateIndex(
                name: "IX_SignInSessions_Person_EndedAt",
                table: "SignInSessions",
                columns: new[] { "Person", "EndedAt" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "PasswordLinks");

            migrationBuilder.DropTable(
                name: "RecoveryCodes");

            migrationBuilder.DropTable(
                name: "SecondFactors");

            migrationBuilder.DropTable(
                name: "SignInSessions");
        }
    }
}
